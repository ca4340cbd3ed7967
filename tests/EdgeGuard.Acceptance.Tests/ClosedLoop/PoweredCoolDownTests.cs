using EdgeGuard.Core.Interlocks;

namespace EdgeGuard.Acceptance.Tests.ClosedLoop;

/// <summary>
/// Powered cool-down by the guard itself, on the three virtual plants, from holding and out of the middle of a ramp:
/// 60 s mean within 30 ± 1 K/min from 30 s after its start until no power is left, then at most 31 (common practice, no
/// source). The plant's own ledger judges the true outlet over the whole run; the indicated one is judged here.
/// </summary>
public sealed class PoweredCoolDownTests
{
    private const double MostKPerMin = 31;

    private const double LeastKPerMin = 29;

    public static TheoryData<string, double> Holding => new()
    {
        { "N-1", 140 }, { "N-1", 80 }, { "N-1", 100 }, { "N-1", 190 }, { "A-1", 150 }, { "A-1", 80 }, { "A-1", 200 }, { "T-40", 70 }, { "T-40", 50 }, { "T-40", 60 }, { "T-40", 80 },
    };

    /// <summary>Plant, hot flow in kg/h, indicated outlet at which the ramp is broken off in °C.</summary>
    public static TheoryData<string, double, double> Ramps => new()
    {
        { "N-1", 140, 220 }, { "N-1", 140, 300 }, { "N-1", 140, 450 }, { "N-1", 140, 600 }, { "N-1", 140, 645 }, { "N-1", 80, 200 }, { "N-1", 80, 350 }, { "N-1", 80, 550 },
        { "N-1", 100, 300 }, { "N-1", 100, 500 }, { "N-1", 190, 250 }, { "N-1", 190, 400 },
        { "A-1", 150, 120 }, { "A-1", 150, 160 }, { "A-1", 150, 200 }, { "A-1", 80, 110 }, { "A-1", 80, 180 }, { "A-1", 100, 150 }, { "A-1", 200, 150 },
        { "T-40", 70, 400 }, { "T-40", 70, 700 }, { "T-40", 70, 1000 }, { "T-40", 50, 300 }, { "T-40", 50, 900 }, { "T-40", 60, 600 }, { "T-40", 80, 500 }, { "T-40", 80, 800 },
    };

    [Trait("requirement", "COOL-1")]
    [Theory]
    [MemberData(nameof(Holding))]
    public void From_holding_the_rate_is_30_K_a_minute_after_30_s_and_never_above_31(string name, double flow)
    {
        GuardedPlant plant = PlantSites.Guarded(name, flow);
        plant.Start();
        plant.Until(static p => p.Decision.State == UnitState.Holding, 4_000);
        plant.Run(1_200);
        var course = new CoolDownCourse(plant);
        (double least, double most) = course.Powered(30);
        Assert.InRange(course.TurnedS, 0, 1);
        Assert.InRange(least, LeastKPerMin, MostKPerMin);
        Assert.InRange(most, LeastKPerMin, MostKPerMin);
        AssertCapKept(plant, course);
    }

    [Trait("requirement", "COOL-1")]
    [Theory]
    [MemberData(nameof(Ramps))]
    public void Out_of_a_ramp_the_cap_is_kept_too(string name, double flow, double fromC)
    {
        GuardedPlant plant = PlantSites.Guarded(name, flow);
        plant.Start();
        plant.Until(p => p.Cabinet.OutletIndicatedC >= fromC, 4_000);
        Assert.Equal(UnitState.Heating, plant.Decision.State);
        var course = new CoolDownCourse(plant);
        // Out of a ramp the led setpoint waits for the heater to turn: that is the start from which 30 s are counted.
        Assert.InRange(course.TurnedS, 5, 125);
        (double least, double most) = course.Powered(course.TurnedS + 30);
        Assert.InRange(least, LeastKPerMin, MostKPerMin);
        Assert.InRange(most, LeastKPerMin, MostKPerMin);
        AssertCapKept(plant, course);
    }

    private static void AssertCapKept(GuardedPlant plant, CoolDownCourse course)
    {
        // The removal and what follows belong to it: power that was still needed would make the fall faster.
        plant.Run(300);
        Assert.InRange(course.Most, 0, MostKPerMin);
        Assert.InRange(plant.Ledger.CoolDownLedMaxKPerMin, 0, MostKPerMin);
        Assert.Equal(0, course.RemovedKw);
        Assert.Equal(0, plant.Ledger.CoolDownForcedMaxKPerMin);
        Assert.Equal(0, plant.Decision.TripCount);
    }
}
