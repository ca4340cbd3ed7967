using System.Text.RegularExpressions;
using EdgeGuard.OpcUa.Tests.AddressSpace;

namespace EdgeGuard.OpcUa.Tests.Contract;

/// <summary>Names of tests in the tables of docs/reference, and the tests that exist: U is this project, P the one of the publisher.</summary>
internal static partial class NamedTests
{
    /// <summary>Whether the project of that letter has a test of that name.</summary>
    public static bool Exists(string project, string name) => project switch
    {
        "U" => Engine.Value.Contains(name),
        "P" => Publisher.Value.Contains(name),
        _ => false,
    };

    private static readonly Lazy<HashSet<string>> Engine = new(static () => Of("EdgeGuard.OpcUa.Tests"));
    private static readonly Lazy<HashSet<string>> Publisher = new(static () => Of("EdgeGuard.Publication.Tests"));

    /// <summary>The tests a cell of a table names. A letter sets the project for the names that follow it.</summary>
    public static (string Project, string Name)[] In(string cell)
    {
        string project = "";
        List<(string, string)> tests = [];
        foreach (Match part in ProjectOrName().Matches(cell))
        {
            project = part.Groups[1].Success ? part.Groups[1].Value : project;
            if (part.Groups[2].Success)
            {
                tests.Add((project, part.Groups[2].Value));
            }
        }

        return [.. tests];
    }

    /// <summary>The tests of a project: methods right below [Fact] or the cases of a [Theory]; a comment or a helper of that name is none.</summary>
    public static HashSet<string> Of(string project)
    {
        HashSet<string> names = new(StringComparer.Ordinal);
        foreach (string file in Directory.EnumerateFiles(RepoFile.Path("tests/" + project), "*.cs", SearchOption.AllDirectories))
        {
            names.UnionWith(TestMethod().Matches(File.ReadAllText(file)).Select(static m => m.Groups[1].Value));
        }

        return names;
    }

    [GeneratedRegex(@"\b([UP]) (?=`|\()|`(\w+)`")]
    private static partial Regex ProjectOrName();

    [GeneratedRegex(@"^ +\[(?:Fact|Theory)[^\n]*\n(?: +(?:\[|//)[^\n]*\n)* +public (?:async )?(?:void|Task) (\w+)\(", RegexOptions.Multiline)]
    private static partial Regex TestMethod();
}
