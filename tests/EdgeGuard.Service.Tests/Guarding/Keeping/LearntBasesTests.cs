using EdgeGuard.Service.Configuration;
using EdgeGuard.Service.Guarding;
using EdgeGuard.Service.Tests.Configuration;

namespace EdgeGuard.Service.Tests.Guarding.Keeping;

/// <summary>Which changes of a site make a learnt figure meaningless, and which do not.</summary>
public sealed class LearntBasesTests
{
    private static readonly SiteConfiguration Site = GuardSites.PilotHall();

    [Trait("requirement", "KEEP-4")]
    [Theory]
    [InlineData("site.json", "\"gas\": \"N2\"", "\"gas\": \"air\"", true)]
    [InlineData("site.json", "\"storedHeatKjPerK\": 4", "\"ambientC\": 30, \"storedHeatKjPerK\": 4", true)]
    [InlineData("site.json", "\"setpointC\": 650", "\"setpointC\": 640", false)]
    [InlineData("site.json", "\"scanMs\": 100", "\"scanMs\": 200", false)]
    public void Gas_and_balance_change_the_basis_of_the_loss_and_a_setpoint_does_not(string file, string from, string to, bool changes)
    {
        using TemporarySite copy = Balanced();
        string before = Basis(Load(copy.Folder));
        string text = File.ReadAllText(Path.Combine(copy.Folder, file));
        int at = text.IndexOf(from, StringComparison.Ordinal);
        Assert.True(at >= 0, from);
        File.WriteAllText(Path.Combine(copy.Folder, file), text[..at] + to + text[(at + from.Length)..]);
        Assert.Equal(changes, !string.Equals(before, Basis(Load(copy.Folder)), StringComparison.Ordinal));
    }

    [Trait("requirement", "KEEP-4")]
    [Fact]
    public void Another_scale_of_a_sensor_changes_the_basis()
    {
        using TemporarySite copy = Balanced();
        string before = Basis(Load(copy.Folder));
        string map = Directory.GetFiles(copy.Folder, "*.csv").First(static f => File.ReadAllText(f).Contains("gasFlow", StringComparison.Ordinal));
        string[] lines = File.ReadAllLines(map);
        int at = Array.FindIndex(lines, static l => l.Split(',') is [_, var role, ..] && role.Trim() is "gasFlow");
        string[] cells = lines[at].Split(',');
        cells[7] = "1.02"; // scale
        lines[at] = string.Join(',', cells);
        File.WriteAllLines(map, lines);
        Assert.NotEqual(before, Basis(Load(copy.Folder)));
    }

    [Fact]
    public void A_unit_without_a_balance_has_no_basis() => Assert.Equal("-", GuardPlanBuilder.Build(Site).Bases[0].Loss);

    private static TemporarySite Balanced()
    {
        var copy = new TemporarySite(Site.Folder);
        copy.Replace("site.json", "\"phas\": { \"connection\": \"star\" }, // lost phase, open leg; judged over two firing cycles", "\"phas\": { \"connection\": \"star\" }, \"bala\": { \"storedHeatKjPerK\": 4, \"lossMaxKwPerK\": 0.01 },");
        return copy;
    }

    private static string Basis(SiteConfiguration site)
    {
        string basis = GuardPlanBuilder.Build(site).Bases[0].Loss;
        Assert.Equal(64, basis.Length);
        return basis;
    }

    private static SiteConfiguration Load(string folder)
    {
        SiteLoadResult loaded = SiteLoader.Load(folder, new SiteLoadOptions { Today = new DateOnly(2026, 3, 1) });
        return loaded.Site ?? throw new InvalidOperationException(string.Join('\n', loaded.Faults));
    }
}
