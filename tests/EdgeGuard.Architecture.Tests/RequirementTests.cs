using System.Text.RegularExpressions;
using EdgeGuard.Core.Interlocks;

namespace EdgeGuard.Architecture.Tests;

/// <summary>
/// docs/requirements.csv and the tests cite each other: a test method by a trait, a scenario file by a line
/// "# requirement ID, ID". A requirement without a test fails, and so does a citation of what is no requirement.
/// </summary>
public sealed partial class RequirementTests
{
    private static readonly string[][] Rows = [.. File.ReadLines(Path.Combine(RepoFolder.Root, "docs", "requirements.csv")).Select(Cells)];

    [Fact]
    public void The_list_is_well_formed_and_no_id_stands_twice()
    {
        Assert.Equal(["id", "shall", "rationale", "verification"], Rows[0]);
        foreach (string[] row in Rows.Skip(1))
        {
            Assert.Equal(4, row.Length);
            Assert.Matches("^[A-Z]{4,5}-[1-9][0-9]?$", row[0]);
            Assert.Contains(" shall ", row[1], StringComparison.Ordinal);
            Assert.All(row, cell => Assert.False(string.IsNullOrWhiteSpace(cell), row[0]));
        }

        string[] ids = Ids();
        Assert.Equal(ids.Distinct(StringComparer.Ordinal), ids);
    }

    [Fact]
    public void Every_requirement_is_cited_by_a_test_and_every_citation_names_one()
    {
        HashSet<string> cited = [.. Citations().Select(c => c.Id)];
        string[] untested = [.. Ids().Where(id => !cited.Contains(id))];
        Assert.True(untested.Length == 0, "requirements that no test cites: " + string.Join(", ", untested));
        string[] unknown = [.. Citations().Where(c => !Ids().Contains(c.Id, StringComparer.Ordinal)).Select(c => $"{c.Id} in {c.File}")];
        Assert.True(unknown.Length == 0, "citations of no requirement: " + string.Join(", ", unknown));
    }

    [Fact]
    public void Every_protective_function_has_a_requirement()
    {
        string[] without = [.. Enum.GetNames<FunctionId>().Where(f => f is not "None")
            .Select(f => f.ToUpperInvariant() + "-").Where(f => !Ids().Any(id => id.StartsWith(f, StringComparison.Ordinal)))];
        Assert.True(without.Length == 0, "functions without a row in docs/requirements.csv: " + string.Join(", ", without));
    }

    // A trait on a helper or in a comment would cite without testing.
    [Fact]
    public void A_citation_in_code_stands_on_a_test()
    {
        string[] loose = [.. Sources().Where(f => AnyTrait().Count(File.ReadAllText(f)) != TraitsOfTests(File.ReadAllText(f)).Count()).Select(Relative)];
        Assert.True(loose.Length == 0, "traits that stand on no test: " + string.Join(", ", loose));
    }

    private static IEnumerable<(string Id, string File)> Citations()
    {
        foreach (string file in Sources())
        {
            foreach (string id in TraitsOfTests(File.ReadAllText(file)))
            {
                yield return (id, Relative(file));
            }
        }

        foreach (string file in Directory.EnumerateFiles(Path.Combine(RepoFolder.Root, "tests", "scenarios"), "*.txt"))
        {
            foreach (string line in File.ReadLines(file).TakeWhile(l => l.StartsWith('#')).Where(l => l.StartsWith(ScenarioMark, StringComparison.Ordinal)))
            {
                foreach (string id in line[ScenarioMark.Length..].Split(',', StringSplitOptions.TrimEntries))
                {
                    yield return (id, Relative(file));
                }
            }
        }
    }

    private static IEnumerable<string> TraitsOfTests(string source) =>
        Tests().Matches(source).SelectMany(m => AnyTrait().Matches(m.Value)).Select(m => m.Groups[1].Value);

    private static string[] Ids() => [.. Rows.Skip(1).Select(r => r[0])];

    private static IEnumerable<string> Sources() => RepoFolder.TrackedLikeFiles("tests").Where(f => f.EndsWith("Tests.cs", StringComparison.Ordinal));

    private static string Relative(string path) => Path.GetRelativePath(RepoFolder.Root, path);

    private static string[] Cells(string line) => [.. Cell().Matches(line).Select(m => m.Groups[1].Success ? m.Groups[1].Value.Replace("\"\"", "\"", StringComparison.Ordinal) : m.Groups[2].Value)];

    private const string ScenarioMark = "# requirement ";

    [GeneratedRegex("\\[Trait\\(\"requirement\", \"([^\"]*)\"\\)\\]")]
    private static partial Regex AnyTrait();

    // Traits directly above the attribute that makes a method a test.
    [GeneratedRegex("(?:^ *\\[Trait\\(\"requirement\", \"[^\"]*\"\\)\\]\\r?\\n)+ *\\[(?:Fact|Theory)", RegexOptions.Multiline)]
    private static partial Regex Tests();

    // RFC 4180 without line breaks inside a cell.
    [GeneratedRegex("(?:^|,)(?:\"((?:[^\"]|\"\")*)\"|([^,\"]*))")]
    private static partial Regex Cell();
}
