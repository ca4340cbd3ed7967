using EdgeGuard.Core.Electrical;
using EdgeGuard.Core.Thermal;

namespace EdgeGuard.Core.Tests.Electrical;

/// <summary>
/// A star of 4.4 Ω at 20 °C of NiCr 80-20 that fires at 600 °C, where its grade has 1.018 times the resistance (the table of
/// tests/vectors/alloy-factors.csv), in bursts: full current in three of four scans.
/// </summary>
public sealed class LegWatchTests
{
    private const double ColdOhm = 4.4;
    private const double Factor = 1.018;
    private const long DayMs = 86_400_000;
    private const int BlockScans = 40;

    private static readonly LegTable Table = new() { Connection = HeaterConnection.Star, Alloy = HeatingAlloys.NiCr80, BlockScans = BlockScans };

    [Trait("requirement", "THRM-20")]
    [Fact]
    public void The_first_day_is_the_reference_and_a_leg_ten_per_cent_up_shows_as_that()
    {
        var watch = new LegWatch(Table, 36);
        Fire(watch, 0, 1);
        Assert.Null(watch[0]);
        Fire(watch, 1, 1.1);
        Assert.Equal(ColdOhm, watch.Figures(0).BaselineOhm, 1e-3);
        Assert.Equal(0, watch[0]!.LatestPercent, 1e-6);
        Fire(watch, 2, 1.1);
        Assert.Equal(10, watch[0]!.LatestPercent, 0.01);
        Assert.Equal(0, watch[1]!.LatestPercent, 0.01);
        Assert.Equal(0, watch[2]!.LatestPercent, 0.01);
    }

    // Hotter metal has another resistance (NiCr 80-20: 1.025 at 400 °C, 1.018 at 600 °C): brought back to 20 °C it is the same leg.
    [Trait("requirement", "THRM-20")]
    [Fact]
    public void Another_temperature_is_no_ageing()
    {
        var watch = new LegWatch(Table, 36);
        Fire(watch, 0, 1);
        Fire(watch, 1, 1, celsius: 400, factor: 1.025);
        Fire(watch, 2, 1);
        Assert.Equal(0, watch[0]!.LatestPercent, 1e-6);
    }

    [Trait("requirement", "THRM-9")]
    [Fact]
    public void A_date_is_given_after_ninety_days_and_not_before()
    {
        var watch = new LegWatch(Table, 36);
        for (int day = 0; day <= 91; day++)
        {
            Assert.False(watch[0]?.AllowsDate ?? false, $"day {day}");
            Fire(watch, day, 1 + (0.0002 * day)); // 0.02 % a day: 10 % on day 500
        }

        Assert.True(watch[0]!.AllowsDate);
        Assert.Equal(500, watch[0]!.DayOf(LegTrend.WarnPercent).LikelyDay, 1);
    }

    [Theory]
    [InlineData(5, 600, 0)]
    [InlineData(100, 600, 3)]
    [InlineData(100, 5_000, 0)]
    public void Little_power_a_moving_element_and_a_temperature_beyond_the_table_give_no_reading(double percent, double celsius, double movesK)
    {
        var watch = new LegWatch(Table, 36);
        Fire(watch, 0, 1, celsius: celsius, share: percent / 100, movesK: movesK);
        Fire(watch, 1, 1);
        Assert.Null(watch[0]);
    }

    [Trait("requirement", "KEEP-1")]
    [Fact]
    public void Half_a_day_in_one_run_and_half_in_the_next_are_one_reading_and_the_trend_goes_on()
    {
        var watch = new LegWatch(Table, 36);
        Fire(watch, 0, 1);
        Fire(watch, 1, 1.05, blocks: 6);
        var next = new LegWatch(Table, 36);
        next.Restore([watch.Figures(0), watch.Figures(1), watch.Figures(2)], watch.Day, watch.DayBlocks, watch.CyclesAtReading);
        Fire(next, 1, 1.05, blocks: 6);
        Fire(next, 2, 1);
        Assert.Equal(2, next[0]!.Points);
        Assert.Equal(5, next[0]!.LatestPercent, 0.01);
        next.LearnAnew();
        Assert.Null(next[0]);
    }

    [Fact]
    public void Too_few_blocks_and_a_clock_set_back_give_no_reading()
    {
        var watch = new LegWatch(Table, 36);
        Fire(watch, 0, 1, blocks: LegWatch.LeastBlocks - 1);
        Fire(watch, 1, 1);
        Assert.Null(watch[0]);
        Fire(watch, 2, 1);
        Fire(watch, 1, 1.3);
        Fire(watch, 3, 1);
        Assert.Equal(2, watch[0]!.Points); // of days 1 and 2; what was summed up under day 1 again is refused
        Assert.Equal(0, watch[0]!.LatestPercent, 1e-6);
    }

    private static void Fire(LegWatch watch, int day, double firstLeg, int blocks = 20, double celsius = 600, double factor = Factor, double share = 1, double movesK = 0)
    {
        double ohm = ColdOhm * factor;
        LineCurrents full = LineCurrents.Of(HeaterConnection.Star, new LegResistances(ohm * firstLeg, ohm, ohm), 400);
        for (int scan = 0; scan < blocks * BlockScans; scan++)
        {
            bool on = scan % 4 != 3 && scan % 40 < 40 * share;
            double element = celsius + (movesK * (scan % BlockScans) / (BlockScans - 1));
            watch.Add(on ? full.FirstAmpere : 0, on ? full.SecondAmpere : 0, on ? full.ThirdAmpere : 0, on ? full.PowerKw : 0, element, (day * DayMs) + scan, cycles: 0);
        }
    }
}
