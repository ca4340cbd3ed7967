using System.Globalization;
using System.Text.RegularExpressions;
using EdgeGuard.OpcUa.Tests.AddressSpace;

namespace EdgeGuard.OpcUa.Tests.Contract;

/// <summary>
/// Holds docs/reference/opcua-contract.md to the tests: every test named there exists as a test method in the project it
/// is said to be in, every point from 1 to 15 names at least one, and every test that names a point stands in its row.
/// </summary>
public sealed partial class ContractTableTests
{
    private const int Points = 15;

    [Fact]
    public void Every_test_the_table_names_exists_in_the_project_it_is_said_to_be_in()
    {
        string[] missing = [.. Rows()
            .SelectMany(static r => r.Tests.Select(t => (r.Point, t.Project, t.Name)))
            .Where(static t => !NamedTests.Exists(t.Project, t.Name))
            .Select(static t => $"point {t.Point}: {t.Project} {t.Name}")];
        Assert.True(missing.Length == 0, "no such test: " + string.Join("; ", missing));
    }

    [Fact]
    public void Every_point_from_1_to_15_has_a_row_with_tests()
    {
        Assert.Equal(Enumerable.Range(1, Points), Rows().Select(static r => r.Point).Order());
        Assert.All(Rows(), static r => Assert.NotEmpty(r.Tests));
    }

    [Fact]
    public void Every_test_that_names_a_point_stands_in_the_row_of_that_point()
    {
        HashSet<(int, string)> told = [.. Rows().SelectMany(static r => r.Tests.Select(t => (r.Point, t.Name)))];
        string[] untold = [.. NamedTests.Of("EdgeGuard.OpcUa.Tests").Concat(NamedTests.Of("EdgeGuard.Publication.Tests")).Where(n => PointOf(n) is { } point && !told.Contains((point, n)))];
        Assert.True(untold.Length == 0, "not in the table: " + string.Join(", ", untold));
    }

    private static int? PointOf(string test) => PointOfName().Match(test) is { Success: true } m ? int.Parse(m.Groups[1].Value, CultureInfo.InvariantCulture) : null;

    private static (int Point, (string Project, string Name)[] Tests)[] Rows() =>
        [.. File.ReadLines(RepoFile.Path("docs/reference/opcua-contract.md"))
            .Select(static l => Row().Match(l))
            .Where(static m => m.Success)
            .Select(static m => (int.Parse(m.Groups[1].Value, CultureInfo.InvariantCulture), NamedTests.In(m.Groups[2].Value)))];

    [GeneratedRegex(@"^\| (\d+) \|[^|]*\|([^|]*)\|$")]
    private static partial Regex Row();

    [GeneratedRegex(@"^(?:Contract_p|P)oint_(\d+)_")]
    private static partial Regex PointOfName();
}
