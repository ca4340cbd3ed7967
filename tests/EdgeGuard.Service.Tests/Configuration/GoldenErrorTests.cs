using EdgeGuard.Service.Configuration;

namespace EdgeGuard.Service.Tests.Configuration;

/// <summary>
/// Broken sites with the exact messages they must give. Run with EDGEGUARD_GOLDEN=write to rewrite the expectations
/// after a deliberate change; the difference is reviewed like code.
/// </summary>
public sealed class GoldenErrorTests
{
    private static readonly SiteLoadOptions Options = new() { Today = new DateOnly(2026, 6, 1) };

    public static TheoryData<string> Cases() =>
        [.. Directory.EnumerateDirectories(SiteFolders.Golden).Select(f => Path.GetFileName(f)).Order(StringComparer.Ordinal)];

    [Fact]
    public void There_are_at_least_twenty_cases()
    {
        Assert.InRange(Cases().Count, 20, int.MaxValue);
    }

    [Trait("requirement", "CONF-1")]
    [Trait("requirement", "CONF-4")]
    [Trait("requirement", "CONF-5")]
    [Trait("requirement", "FAST-1")]
    [Trait("requirement", "FAST-3")]
    [Theory]
    [MemberData(nameof(Cases))]
    public void A_broken_site_gives_exactly_the_expected_messages(string name)
    {
        string folder = Path.Combine(SiteFolders.Golden, name);
        string expectedFile = Path.Combine(folder, "expected.txt");
        SiteLoadResult result = SiteLoader.Load(folder, Options);
        string actual = string.Concat(result.Faults.Select(f => f + "\n"));
        if (string.Equals(Environment.GetEnvironmentVariable("EDGEGUARD_GOLDEN"), "write", StringComparison.Ordinal))
        {
            File.WriteAllText(expectedFile, actual);
        }

        Assert.Equal(File.ReadAllText(expectedFile), actual);
        Assert.Null(result.Site);
        Assert.NotEmpty(result.Faults);
    }

    [Fact]
    public void The_form_of_a_message_is_the_one_of_the_whole_program()
    {
        string line = File.ReadLines(Path.Combine(SiteFolders.Golden, "unknown-key", "expected.txt")).First();

        Assert.StartsWith("site.json:18:7: unknown key \"setpiontC\"; found \"setpiontC\"; expected one of ", line, StringComparison.Ordinal);
        Assert.EndsWith("; try \"setpointC\"", line, StringComparison.Ordinal);
    }

    [Fact]
    public void A_missing_folder_is_a_fault_and_no_exception()
    {
        SiteLoadResult result = SiteLoader.Load(Path.Combine(SiteFolders.Golden, "no-such-case"));

        Assert.Null(result.Site);
        Assert.Contains("no such file", Assert.Single(result.Faults).What, StringComparison.Ordinal);
    }
}
