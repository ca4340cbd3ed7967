using EdgeGuard.Core.Thermal;

namespace EdgeGuard.Core.Tests.Thermal;

public sealed class LegTrendTests
{
    private const double Baseline = 4.444;

    // A line by hand: 0.02 % a day reaches 10 % on day 500.
    [Fact]
    public void A_steady_rise_gives_its_date()
    {
        LegTrend trend = Rising(0.02, 120, 10, 0);
        Assert.True(trend.AllowsDate);
        Assert.Equal(0.02, trend.PercentPerDay, 1e-9);
        (double likely, double earliest, double latest) = trend.DayOf(LegTrend.WarnPercent);
        Assert.Equal(500, likely, 1e-3);
        Assert.True(earliest <= likely + 1e-6 && likely <= latest + 1e-6);
        Assert.Equal(2.4, trend.LatestPercent, 1e-9);
    }

    [Trait("requirement", "THRM-9")]
    [Theory]
    [InlineData(89, 0, false)]
    [InlineData(90, 0, true)]
    [InlineData(20, 1, false)]
    [InlineData(20, 2, true)]
    public void No_date_before_ninety_days_or_ten_cycles(int days, int cyclesEach, bool date)
    {
        // Six readings after the first, whatever the time: 1 cycle each is 5 (of 6 readings, the first has none before it).
        var trend = new LegTrend(Baseline);
        for (int i = 0; i <= 5; i++)
        {
            trend.Add(days * i / 5.0, Baseline * (1 + (0.0002 * days * i / 5.0)), cyclesEach);
        }

        Assert.Equal(5 * cyclesEach, trend.Cycles);
        Assert.Equal(date, trend.AllowsDate);
        Assert.Equal(date, double.IsFinite(trend.DayOf(10).LikelyDay));
    }

    // Textbook least squares: x 0 1 2 3 4, y 0 1 1 2 2 has slope 0.5 and residual sum of squares 0.3, so the slope's
    // standard deviation is √(0.3/3/10) = 0.1.
    [Fact]
    public void The_standard_deviation_of_the_slope_is_that_of_least_squares()
    {
        var trend = new LegTrend(100);
        foreach ((double day, double percent) in new[] { (0.0, 0.0), (1, 1), (2, 1), (3, 2), (4, 2) })
        {
            trend.Add(day, 100 + percent, 5);
        }

        Assert.Equal(0.5, trend.PercentPerDay, 1e-9);
        Assert.Equal(0.1, trend.SlopeSigma, 1e-9);
        Assert.True(trend.AllowsDate);
        Assert.Equal(2 + (8.8 / 0.5), trend.DayOf(10).LikelyDay, 1e-6);
        Assert.Equal(2 + (8.8 / 0.7), trend.DayOf(10).EarliestDay, 1e-6);
        Assert.Equal(2 + (8.8 / 0.3), trend.DayOf(10).LatestDay, 1e-6);
    }

    // Scatter without a trend, and a leg that falls, reach no limit.
    [Trait("requirement", "THRM-9")]
    [Fact]
    public void A_slope_that_could_be_none_gives_no_date()
    {
        Assert.False(Rising(0.0005, 200, 10, 0.5).AllowsDate);
        Assert.False(Rising(-0.02, 200, 10, 0).AllowsDate);
        Assert.Equal(double.NaN, Rising(-0.02, 200, 10, 0).DayOf(10).LikelyDay);
    }

    [Fact]
    public void What_is_no_reading_is_left_out()
    {
        var trend = new LegTrend(Baseline);
        trend.Add(10, Baseline, 0);
        trend.Add(5, Baseline, 1);
        trend.Add(11, double.NaN, 1);
        trend.Add(11, 0, 1);
        trend.Add(double.NaN, Baseline, 1);
        Assert.Equal(1, trend.Points);
        Assert.Equal(0, trend.Cycles);
        Assert.Equal(double.NaN, trend.PercentPerDay);
        Assert.Equal(double.NaN, trend.SlopeSigma);
        Assert.False(trend.AllowsDate);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(double.PositiveInfinity)]
    [InlineData(double.NaN)]
    public void A_trend_needs_a_baseline(double ohm) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new LegTrend(ohm));

    private static LegTrend Rising(double percentPerDay, int days, int every, double scatterPercent)
    {
        var trend = new LegTrend(Baseline);
        for (int day = 0; day <= days; day += every)
        {
            double scatter = (day / every) % 2 == 0 ? scatterPercent : -scatterPercent;
            trend.Add(day, Baseline * (1 + (((percentPerDay * day) + scatter) / 100)), 0);
        }

        return trend;
    }
}
