using EdgeGuard.VirtualPlant.Cabinets;
using EdgeGuard.VirtualPlant.Faults;
using EdgeGuard.VirtualPlant.Profiles;

namespace EdgeGuard.VirtualPlant.Tests.Ledger;

/// <summary>The ledger on the true plant: a right reaction passes, a wrong guard is caught.</summary>
public sealed class JudgeTests
{
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void With_a_shorted_leg_and_a_welded_contactor_the_guard_that_lowers_the_blower_is_caught(bool wrongGuard)
    {
        var driver = new Driver(PlantProfiles.N1);
        driver.Steady();
        driver.Fault(FaultKind.LegShorted);
        driver.Fault(FaultKind.ContactorWelded);
        driver.Run(1);
        driver.Write(CabinetRegisters.TokenAddress, 0);
        driver.Write(CabinetRegisters.RelayAddress, 0);
        driver.Write(CabinetRegisters.EnableAddress, 0);
        driver.Plant.Advance(2000);
        if (wrongGuard)
        {
            driver.Write(CabinetRegisters.BlowerAddress, 257);
        }

        driver.Plant.Advance(600_000);
        Assert.Equal(wrongGuard ? 1 : 0, driver.Cabinet.Ledger.Power.BlowerLoweredUnderPower);
        Assert.Equal(wrongGuard, driver.Heater.ElementC > PlantProfiles.N1.Limits.ElementTripC);
    }

    [Fact]
    public void A_trip_on_lost_flow_is_measured_from_the_meters_register()
    {
        var driver = new Driver(PlantProfiles.N1);
        driver.Steady(600);
        driver.Fault(FaultKind.BlowerStop);
        while (driver.Cabinet.MeterKgPerHour >= 70)
        {
            driver.Renew();
            driver.Plant.Advance(5);
        }

        driver.Plant.Advance(500);
        driver.Write(CabinetRegisters.TokenAddress, 0);
        driver.Plant.Advance(1000);
        var reaction = Assert.Single(driver.Cabinet.Ledger.Flow.Reactions);
        Assert.InRange(reaction.ReactionMs, 540, 545);
        // The first-order meter of 0.8 s behind a blower of 1.5 s is late by more than half a second.
        Assert.InRange(reaction.RegisterBelowMs - reaction.TrueBelowMs, 500, 1200);
        Assert.InRange(driver.Cabinet.Ledger.Flow.PoweredUnderMinimumMs, 1000, 1800);
    }

    [Fact]
    public void A_trip_from_full_temperature_cools_fast_and_is_recorded_as_forced()
    {
        var driver = new Driver(PlantProfiles.N1);
        driver.Steady(600);
        driver.Write(CabinetRegisters.TokenAddress, 0);
        driver.Plant.Advance(120_000);
        Assert.InRange(driver.Cabinet.Ledger.CoolDown.ForcedMaxKPerMin, 200, 600);
        Assert.InRange(driver.Cabinet.Ledger.CoolDown.LedMaxKPerMin, 0, 30);
    }

    [Fact]
    public void The_site_sees_the_power_of_all_units_together()
    {
        var plant = new Plant([PlantProfiles.N1, PlantProfiles.A1], DateTime.UnixEpoch);
        foreach (Cabinet cabinet in plant.Cabinets)
        {
            // Full power in manual: 36 and 15 kW against the site's 45.
            Assert.True(cabinet.TryWriteRegisters(CabinetRegisters.TokenAddress, [1, 1, 1, 1, 1000]));
        }

        plant.Advance(1000);
        var site = plant.ReportLedger().Site;
        Assert.Equal(51.0, site.SumMaxKw, 6);
        Assert.InRange(site.AboveLimitMs, 950, 960);
    }

    [Fact]
    public void The_same_commands_give_the_same_bits()
    {
        string first = Scripted();
        Assert.Equal(first, Scripted());
        Assert.Contains("\"unit\":\"N-1\"", first, StringComparison.Ordinal);
    }

    private static string Scripted()
    {
        var plant = new Plant([PlantProfiles.N1, PlantProfiles.A1], new DateTime(2026, 1, 5, 6, 0, 0, DateTimeKind.Utc));
        var commands = new EdgeGuard.VirtualPlant.Process.PlantCommands(plant, conducted: true, ledgerFile: null, _ => null);
        string[] lines =
        [
            "key N-1 local", "advance 400000", "key A-1 local", "advance 300007", "fault blower-stop N-1", "advance 33333",
            "fault supply-high A-1 1.07", "clear all N-1", "advance 60000", "key N-1 supervised", "advance 100000", "state", "ledger",
        ];
        string answers = string.Join('\n', lines.Select(commands.Execute));
        Assert.DoesNotContain("error", answers, StringComparison.Ordinal);
        // Rounded figures hide bits: add the raw ones.
        return answers + string.Join(' ', plant.Cabinets.Select(c => BitConverter.DoubleToInt64Bits(c.Heater.ElementC) + "/" + BitConverter.DoubleToInt64Bits(c.Heater.OutletJunctionC)));
    }
}
