using System.Text.RegularExpressions;
using EdgeGuard.OpcUa.Tests.AddressSpace;
using EdgeGuard.OpcUa.Tests.Contract;
using EdgeGuard.OpcUa.Tests.Server;

namespace EdgeGuard.OpcUa.Tests.Profiles;

/// <summary>
/// Holds three lists together: what the server announces, what docs/reference/opcua-profiles.md says of it, and the units
/// the standard asks for (tests/vectors/opcua-profile-units.csv). A profile whose units do not all have a test that
/// exists cannot be announced.
/// </summary>
public sealed partial class ProfileTableTests
{
    private const uint ServerProfileArray = 2269; // NodeIds.csv: Server_ServerCapabilities_ServerProfileArray
    private const int GroupsOfTheStandard = 12;
    private static readonly string[] Page = File.ReadAllLines(RepoFile.Path("docs/reference/opcua-profiles.md"));

    [Fact]
    public void Only_what_the_page_names_is_announced()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        var announced = (string?[])client.Read(new NodeId(ServerProfileArray)).Value.Elements!;
        Assert.Equal(Announced().Select(static profile => profile.Uri).Order(StringComparer.Ordinal), announced.Order(StringComparer.Ordinal));
        Assert.Contains("http://opcfoundation.org/UA-Profile/Server/EmbeddedUA2017", announced);
    }

    [Fact]
    public void Every_unit_of_an_announced_profile_has_a_test_that_exists()
    {
        Dictionary<(string, string), (string Project, string Name)[]> rows = Rows();
        List<string> missing = [];
        foreach ((string uri, string[] groups) in Announced())
        {
            foreach ((string group, string unit) in groups.SelectMany(static group => Units(group).Select(unit => (group, unit))))
            {
                bool isHeld = rows.TryGetValue((group, unit), out (string Project, string Name)[]? tests) && tests.Length > 0;
                missing.AddRange(isHeld ? tests!.Where(static t => !NamedTests.Exists(t.Project, t.Name)).Select(t => $"{unit}: no test {t.Project} {t.Name}") : [$"{uri}: {group}, {unit}"]);
            }
        }

        Assert.True(missing.Count == 0, string.Join("; ", missing));
    }

    [Fact]
    public void Every_row_is_a_unit_of_the_standard_and_every_group_has_its_units()
    {
        HashSet<(string, string)> known = [.. Standard()];
        Assert.All(Rows(), row => Assert.True(known.Contains(row.Key), row.Key + " is no unit of the standard"));
        Assert.Equal(GroupsOfTheStandard, known.Select(static unit => unit.Item1).Distinct().Count());
        Assert.All(Announced().SelectMany(static profile => profile.Groups), static group => Assert.NotEmpty(Units(group)));
        Assert.All(Rows().Values.SelectMany(static tests => tests), static t => Assert.True(NamedTests.Exists(t.Project, t.Name), t.Name));
    }

    private static string[] Units(string group) => [.. Standard().Where(unit => unit.Group == group).Select(static unit => unit.Unit)];

    private static IEnumerable<(string Group, string Unit)> Standard() =>
        File.ReadLines(RepoFile.Path("tests/vectors/opcua-profile-units.csv"))
            .Where(static line => !line.StartsWith('#'))
            .Skip(1)
            .Select(static line => line.Split(','))
            .Select(static cells => (cells[0], cells[1]));

    private static (string Uri, string[] Groups)[] Announced() =>
        [.. Page.Select(static line => AnnouncedRow().Match(line)).Where(static m => m.Success).Select(static m => (m.Groups[1].Value, m.Groups[2].Value.Split(',', StringSplitOptions.TrimEntries)))];

    private static Dictionary<(string, string), (string Project, string Name)[]> Rows() =>
        Page.Select(static line => UnitRow().Match(line))
            .Where(static m => m.Success && m.Groups[1].Value is not ("group" or "---"))
            .ToDictionary(static m => (m.Groups[1].Value, m.Groups[2].Value), static m => NamedTests.In(m.Groups[3].Value));

    [GeneratedRegex(@"^\| [^|]+ \| `(http://[^`]+)` \| ([^|]+) \|$")]
    private static partial Regex AnnouncedRow();

    [GeneratedRegex(@"^\| ([^|`]+) \| ([^|`]+) \|[^|]*\|([^|]*)\|$")]
    private static partial Regex UnitRow();
}
