using EdgeGuard.Acceptance.Tests.Rigs;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Service.Configuration;
using EdgeGuard.VirtualPlant.Ledger;
using EdgeGuard.VirtualPlant.Profiles;

namespace EdgeGuard.Acceptance.Tests.ClosedLoop;

/// <summary>Both heaters of the hall on its supply of 45 kW; the plant's own ledger adds up what they truly drew.</summary>
public sealed class SharedSupplyTests
{
    [Trait("requirement", "DMND-1")]
    [Trait("requirement", "DMND-2")]
    [Theory]
    [InlineData(0, 1)]
    [InlineData(1, 0)]
    public void The_limit_is_never_exceeded_and_the_ramps_go_in_the_order_of_start(int first, int second)
    {
        GuardedPlant hall = Hall(45);
        hall.Begin(first);
        hall.Begin(second);
        hall.Until(p => p.DecisionOf(first).State == UnitState.Heating, 120);
        hall.Until(p => p.DecisionOf(second).SupplyPlace == 1, 60);
        Assert.Equal(0, hall.DecisionOf(first).SupplyPlace);
        hall.Until(p => p.DecisionOf(first).State == UnitState.Holding && p.DecisionOf(second).State == UnitState.Holding, 7_200);
        hall.Run(600);
        SiteLedgerReport site = hall.Plant.ReportLedger().Site;
        Assert.Equal(0, site.AboveLimitMs);
        Assert.InRange(site.SumMaxKw, 30, 45);
    }

    /// <summary>The reference plant has 49 kW at heat-up without a stagger, tolerance 10 %: the limit is worth having.</summary>
    [Fact]
    public void Without_a_limit_both_together_draw_what_the_reference_says()
    {
        GuardedPlant hall = Hall(100);
        hall.Begin(0);
        // N-1 takes 10 min and A-1 not quite 7: begun so that both end at the same time they draw the most.
        hall.Run(215);
        hall.Begin(1);
        hall.Until(static p => p.DecisionOf(0).State == UnitState.Holding, 1_200);
        SiteLedgerReport site = hall.Plant.ReportLedger().Site;
        Assert.InRange(site.SumMaxKw, 49 * 0.9, 49 * 1.1);
    }

    private static GuardedPlant Hall(double limitKw)
    {
        using var folder = new TestFolder();
        foreach (string file in Directory.GetFiles(Repository.File("config", "pilot-hall")))
        {
            File.Copy(file, folder.File(Path.GetFileName(file)));
        }

        string site = folder.File("site.json");
        File.WriteAllText(site, File.ReadAllText(site).Replace("\"supplyLimitKw\": 45", FormattableString.Invariant($"\"supplyLimitKw\": {limitKw}"), StringComparison.Ordinal));
        SiteLoadResult result = SiteLoader.Load(folder.Path, new SiteLoadOptions { Today = new DateOnly(2026, 2, 1) });
        Assert.True(result.Site is not null, string.Join('\n', result.Faults));
        return new GuardedPlant(result.Site, [PlantProfiles.N1, PlantProfiles.A1]);
    }
}
