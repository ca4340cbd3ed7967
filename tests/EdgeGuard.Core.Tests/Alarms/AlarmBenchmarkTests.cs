using EdgeGuard.Core.Alarms;

namespace EdgeGuard.Core.Tests.Alarms;

/// <summary>
/// The grades of EEMUA 191, second edition, from memory. Steady operation, long-term average: more than one a minute very
/// likely unacceptable; one in 2 min likely over-demanding; one in 5 min manageable; less than one in 10 min very likely
/// acceptable. In the 10 min after an upset: more than 100 definitely excessive; 20 to 100 hard to cope with; under 10
/// should be manageable.
/// </summary>
public sealed class AlarmBenchmarkTests
{
    [Trait("requirement", "ALRM-4")]
    [Theory]
    [InlineData(0, AlarmLoad.VeryLikelyAcceptable)]
    [InlineData(1, AlarmLoad.VeryLikelyAcceptable)] // one in 10 min
    [InlineData(1.001, AlarmLoad.Manageable)]
    [InlineData(2, AlarmLoad.Manageable)] // one in 5 min
    [InlineData(2.001, AlarmLoad.LikelyOverDemanding)]
    [InlineData(5, AlarmLoad.LikelyOverDemanding)] // one in 2 min
    [InlineData(10, AlarmLoad.LikelyOverDemanding)] // one a minute
    [InlineData(10.001, AlarmLoad.VeryLikelyUnacceptable)]
    [InlineData(double.NaN, AlarmLoad.VeryLikelyUnacceptable)]
    public void A_long_term_average_is_graded_as_the_guide_does(double inTenMinutes, AlarmLoad expected) =>
        Assert.Equal(expected, AlarmBenchmarks.OfAverage(inTenMinutes));

    [Trait("requirement", "ALRM-4")]
    [Theory]
    [InlineData(0, UpsetLoad.Manageable)]
    [InlineData(10, UpsetLoad.Manageable)]
    [InlineData(11, UpsetLoad.HardToCope)]
    [InlineData(20, UpsetLoad.HardToCope)]
    [InlineData(100, UpsetLoad.HardToCope)]
    [InlineData(101, UpsetLoad.Excessive)]
    public void An_upset_is_graded_as_the_guide_does(int mostInTenMinutes, UpsetLoad expected) =>
        Assert.Equal(expected, AlarmBenchmarks.OfUpset(mostInTenMinutes));

    // One annunciation in so many seconds for a day, the way the guide states its averages.
    [Trait("requirement", "ALRM-4")]
    [Theory]
    [InlineData(600, AlarmLoad.VeryLikelyAcceptable)]
    [InlineData(300, AlarmLoad.Manageable)]
    [InlineData(120, AlarmLoad.LikelyOverDemanding)]
    [InlineData(50, AlarmLoad.VeryLikelyUnacceptable)]
    public void A_day_at_a_steady_rate_gets_the_grade_of_that_rate(int everySeconds, AlarmLoad expected)
    {
        var rates = new AlarmRates(1_000);
        for (int scan = 1; scan <= 86_400; scan++)
        {
            rates.Step(scan);
            if (scan % everySeconds == 0)
            {
                rates.Annunciated(AlarmPriority.Low);
            }
        }

        Assert.Equal(600.0 / everySeconds, rates.AverageInTenMinutes, 1e-9);
        Assert.Equal(expected, AlarmBenchmarks.OfAverage(rates.AverageInTenMinutes));
        Assert.Equal(86_400 / everySeconds, rates.Count(AlarmPriority.Low));
    }

    // About 5, 15 and 80 % from high to low (EEMUA 191, from memory): a site that keeps them is told so by its counts.
    [Fact]
    public void The_distribution_of_priorities_is_told_by_count()
    {
        var rates = new AlarmRates(1_000);
        rates.Step(0);
        for (int i = 0; i < 100; i++)
        {
            rates.Annunciated(i < 5 ? AlarmPriority.High : i < 20 ? AlarmPriority.Medium : AlarmPriority.Low);
        }

        Assert.Equal((5L, 15L, 80L), (rates.Count(AlarmPriority.High), rates.Count(AlarmPriority.Medium), rates.Count(AlarmPriority.Low)));
        Assert.Equal(80, rates.PriorityPercent(AlarmPriority.Low), 1e-9);
    }
}
