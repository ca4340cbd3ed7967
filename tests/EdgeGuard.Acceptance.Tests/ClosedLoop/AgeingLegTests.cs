using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Core.Thermal;
using EdgeGuard.Service.Guarding.Watching;
using EdgeGuard.VirtualPlant.Faults;

namespace EdgeGuard.Acceptance.Tests.ClosedLoop;

/// <summary>
/// A leg of N-1 that ages on the virtual plant, followed by the trend of the legs as the guard follows it: from the line currents
/// and the power of a heater that holds, day by day. The plant alone knows how far the leg is (its circuit shares nothing with the
/// guard). What is told: the leg, how fast it goes and, after 90 days or 10 cycles and not before, when it is 10 % up
/// (LegTrend; both figures and the 10 %: common practice, no source). Ageing and days of reading are invented for this test.
/// </summary>
public sealed class AgeingLegTests
{
    private const double PercentPerDay = 0.04; // invented for this test: 10 % on day 250
    private const double TenPercentDay = 10 / PercentPerDay;
    private const int DaysBetween = 10; // invented for this test
    private const int DaysBetweenCycles = 4; // invented for this test: twelve of them are fewer than 90 days
    private const long DayMs = 86_400_000;

    /// <summary>A reading wants ten blocks of a minute (LegWatch.LeastBlocks); one may be under way already.</summary>
    private const double ReadingS = 11 * 60;

    [Trait("requirement", "THRM-9")]
    [Trait("requirement", "THRM-20")]
    [Fact]
    public void The_ageing_leg_is_found_and_its_date_told_after_ninety_days_and_not_before()
    {
        (GuardedPlant plant, UnitWatch watch) = Holding();
        for (int day = 0; day <= 100; day += DaysBetween)
        {
            Age(plant, day);
            plant.Run(ReadingS);
            LegSummary told = Tomorrow(plant, watch, DaysBetween);
            Assert.Equal(PercentPerDay * day, told.ThirdPercent, 0.05);
            Assert.InRange(Math.Max(Math.Abs(told.FirstPercent), Math.Abs(told.SecondPercent)), 0, 0.05);
            Assert.True(double.IsFinite(told.WarnUtcMs) == (day >= LegTrend.LeastDays), $"day {day}: a date {told.WarnUtcMs}");
        }

        CheckDate(LegSummary.Of(watch.Legs), withinDays: 10);
        Assert.Equal(0, watch.Stress.LedCycles + watch.Stress.ForcedCycles);

        // PHAS says nothing yet: 4 % in a leg of a star is far below its limit (1 % of unbalance by circuit theory).
        Assert.Equal((UnitState.Holding, FunctionState.Healthy), (plant.Decision.State, plant.Decision.Functions[(int)FunctionId.Phas].State));
        Assert.Equal(0, plant.Decision.TripCount);
    }

    [Trait("requirement", "THRM-9")]
    [Fact]
    public void A_heater_in_cycles_has_its_date_with_the_tenth_cycle_and_not_before()
    {
        (GuardedPlant plant, UnitWatch watch) = Holding();
        for (int cycle = 0; cycle <= LegTrend.LeastCycles + 1; cycle++)
        {
            Age(plant, cycle * DaysBetweenCycles);
            plant.Run(ReadingS);
            LegSummary told = Tomorrow(plant, watch, DaysBetweenCycles);
            Assert.True(double.IsFinite(told.WarnUtcMs) == (cycle >= LegTrend.LeastCycles), $"cycle {cycle}: a date {told.WarnUtcMs}");
            Cycle(plant);
        }

        Assert.Equal(LegTrend.LeastCycles + 2, watch.Stress.LedCycles);
        CheckDate(LegSummary.Of(watch.Legs), withinDays: 25); // six weeks of readings alone
    }

    [Trait("requirement", "THRM-9")]
    [Fact]
    public void A_leg_that_does_not_age_has_no_date_however_long_it_is_read()
    {
        (GuardedPlant plant, UnitWatch watch) = Holding();
        for (int day = 0; day <= 100; day += 2 * DaysBetween)
        {
            plant.Run(ReadingS);
            Tomorrow(plant, watch, 2 * DaysBetween);
        }

        LegSummary told = LegSummary.Of(watch.Legs);
        Assert.Equal(6, told.Readings);
        Assert.True(double.IsNaN(told.WarnUtcMs) || told.WarnUtcMs > plant.UtcMs + (100 * 365.0 * DayMs), $"a date {told.WarnUtcMs} at {told.PercentPerYear} % a year");
    }

    private static (GuardedPlant Plant, UnitWatch Watch) Holding()
    {
        GuardedPlant plant = PlantSites.Guarded("N-1", 140, heldFlow: true, Edited);
        var watch = new UnitWatch(plant.Table, 100);
        Assert.NotNull(watch.Legs);
        plant.Start();
        plant.Until(static p => p.Decision.State == UnitState.Holding, 4_000);
        plant.Run(900);
        plant.AfterScan = () => watch.Step(plant.UtcMs, plant.Decision);
        return (plant, watch);
    }

    // A low target is reached soon; its power is still above the share from which the legs are read.
    private static string Edited(string text) => Replaced(
        Replaced(text, "\"phas\": { \"connection\": \"star\"", "\"phas\": { \"alloy\": \"NiCr 80-20\", \"connection\": \"star\""), "\"setpointC\": 650", "\"setpointC\": 350");

    private static string Replaced(string text, string old, string @new)
    {
        Assert.Contains(old, text, StringComparison.Ordinal);
        return text.Replace(old, @new, StringComparison.Ordinal);
    }

    private static void Age(GuardedPlant plant, int day) => plant.Cabinet.Faults.Set(FaultKind.LegHigh, 1 + (PercentPerDay * day / 100));

    /// <summary>The turn of the day makes the mean of the one before a reading.</summary>
    private static LegSummary Tomorrow(GuardedPlant plant, UnitWatch watch, int days)
    {
        plant.SkippedUtcMs += days * DayMs;
        plant.Scan();
        return LegSummary.Of(watch.Legs);
    }

    /// <summary>Stopped, cooled by more than the 50 K of a cycle (StressTable), led up again and warmed through.</summary>
    private static void Cycle(GuardedPlant plant)
    {
        double hotC = plant.Cabinet.ElementIndicatedC;
        plant.Ask(RequestKind.Stop);
        plant.Until(p => p.Cabinet.ElementIndicatedC < hotC - 80, 1_200);
        plant.Until(static p => p.Decision.PowerProvedOff, 60);
        plant.Ask(RequestKind.Start);
        plant.Until(static p => p.Decision.State == UnitState.Holding, 2_000);
        plant.Run(300);
    }

    private static void CheckDate(LegSummary told, double withinDays)
    {
        double first = Math.Floor(1_767_592_800_000 / (double)DayMs);
        Assert.Equal(first + TenPercentDay, told.WarnUtcMs / DayMs, withinDays);
        Assert.InRange(told.WarnUtcMs, told.EarliestUtcMs, told.LatestUtcMs);
        Assert.Equal(PercentPerDay * 365.25, told.PercentPerYear, PercentPerDay * 365.25 / 10);
    }
}
