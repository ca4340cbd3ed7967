using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Thermal;

namespace EdgeGuard.Core.Tests.Interlocks;

/// <summary>Leakage and insulation over months; an hour is one "scan" so that a year is short.</summary>
public sealed class LeakTrendTests
{
    private const int HourMs = 3_600_000;

    // By hand: from 1 mA at 0.01 mA a day the alarm limit of 5 mA is reached on day 400. Before 90 days nothing is said.
    [Trait("requirement", "LEAK-5")]
    [Fact]
    public void A_steady_rise_tells_the_days_left_after_ninety_days_and_not_before()
    {
        var trend = new LeakTrend(5, default);
        for (int day = 0; day <= 90; day++)
        {
            Assert.True(double.IsPositiveInfinity(trend.DaysLeft), $"day {day}");
            Live(trend, 1 + (0.01 * day));
        }

        Assert.Equal(400 - 91, trend.DaysLeft, 1e-6);
    }

    [Fact]
    public void What_does_not_rise_tells_nothing()
    {
        var trend = new LeakTrend(5, default);
        for (int day = 0; day < 200; day++)
        {
            Live(trend, day % 2 == 0 ? 1 : 1.2);
        }

        Assert.True(double.IsPositiveInfinity(trend.DaysLeft));
    }

    [Trait("requirement", "KEEP-1")]
    [Fact]
    public void A_trend_goes_on_over_a_restart_in_the_middle_of_a_day()
    {
        var whole = new LeakTrend(5, default);
        var first = new LeakTrend(5, default);
        for (int day = 0; day < 100; day++)
        {
            Live(whole, 1 + (0.01 * day));
            Live(first, 1 + (0.01 * day), hours: day == 99 ? 10 : 24);
        }

        var second = new LeakTrend(5, first.Figures);
        Live(second, 1.99, hours: 14);
        Assert.Equal(whole.Figures, second.Figures);
        Assert.Equal(whole.DaysLeft, second.DaysLeft);
    }

    // What an earlier run saw enters as kept figures: 99 days of 0.04 mA a day, from 1 mA to 4.92 of the 5 that are an alarm.
    [Trait("requirement", "LEAK-5")]
    [Theory]
    [InlineData(30, FunctionState.Alarm, Finding.LeakageRises)]
    [InlineData(1, FunctionState.Healthy, Finding.None)]
    [InlineData(0, FunctionState.Healthy, Finding.None)]
    public void A_trend_that_comes_to_the_alarm_limit_in_time_is_an_alarm_and_trips_nothing(int trendDays, FunctionState expected, Finding finding)
    {
        var trend = new LegTrend(5);
        for (int day = 0; day < 99; day++)
        {
            trend.Add(day, 1 + (0.04 * day), 0);
        }

        SiteTable site = TestSite.Of(i => TestSite.X1()(i) with { Leak = TestSite.X1()(i).Leak! with { TrendDays = trendDays } });
        TestHall hall = new TestHall(site, new KeptFigures { Leakage = new LeakFigures { Day = 98, Trend = trend.State } }).Run(40);
        FunctionStatus leak = hall[0].Functions[(int)FunctionId.Leak];
        Assert.Equal((expected, finding), (leak.State, leak.Finding));
        Assert.Equal(FunctionId.Start, hall[0].FirstOut);
    }

    private static void Live(LeakTrend trend, double milliampere, int hours = 24)
    {
        for (int hour = 0; hour < hours; hour++)
        {
            trend.Add(hour == 5 ? double.NaN : milliampere, HourMs); // a reading that is not good is left out
        }
    }
}
