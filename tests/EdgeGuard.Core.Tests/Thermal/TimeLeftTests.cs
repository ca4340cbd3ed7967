using CsCheck;
using EdgeGuard.Core.Thermal;

namespace EdgeGuard.Core.Tests.Thermal;

public sealed class TimeLeftTests
{
    // By hand: 630 K at 60 K/min are 10.5 min; 1080 K in 10 to 15 min are 108 to 72 K/min.
    [Theory]
    [InlineData(20, 650, 60, 630)]
    [InlineData(650, 20, 60, 630)]
    [InlineData(20, 1100, 108, 600)]
    [InlineData(20, 1100, 72, 900)]
    [InlineData(300, 300, 60, 0)]
    [InlineData(20, 650, 0, double.PositiveInfinity)]
    [InlineData(20, double.NaN, 60, double.PositiveInfinity)]
    public void A_ramp_takes_its_distance_over_its_rate(double from, double to, double rate, double seconds) =>
        Assert.Equal(seconds, TimeLeft.RampSeconds(from, to, rate), 1e-9);

    // First order: 63.21 % of the way in τ, 95.02 % in 3 τ. No cap in the way.
    [Theory]
    [InlineData(0.6321, 1)]
    [InlineData(0.9502, 3)]
    public void A_free_fall_is_first_order(double share, double timeConstants)
    {
        const double Tau = 240;
        double to = 1000 - (share * 900);
        Assert.Equal(timeConstants * Tau, TimeLeft.CoolDownSeconds(1000, to, 1e6, 100, Tau), 0.2);
    }

    // By hand: floor 40 °C, τ 264 s, cap 30 K/min: unpowered from 40 + 0.5·264 = 172 °C. From 650 °C: 478 K at 30 K/min are
    // 956 s, then 264 ln(132/110) = 48.13 s to 150 °C.
    [Trait("requirement", "THRM-10")]
    [Fact]
    public void A_powered_cool_down_ends_in_a_free_fall()
    {
        Assert.Equal(172, TimeLeft.UnpoweredC(30, 40, 264), 1e-12);
        Assert.Equal(956 + 48.13, TimeLeft.CoolDownSeconds(650, 150, 30, 40, 264), 0.01);
        Assert.Equal(956 / 2.0, TimeLeft.CoolDownSeconds(650, 411, 30, 40, 264), 1e-9);
        Assert.Equal(48.13 * Math.Log(120.0 / 110) / Math.Log(132.0 / 110), TimeLeft.CoolDownSeconds(160, 150, 30, 40, 264), 0.01);
    }

    // Stepping the same model in small steps, without its solution.
    [Fact]
    public void The_time_agrees_with_stepping_the_fall()
    {
        double t = 700, seconds = 0;
        while (t > 120)
        {
            t -= Math.Min(45.0 / 60, (t - 30) / 300) * 0.01;
            seconds += 0.01;
        }

        Assert.Equal(seconds, TimeLeft.CoolDownSeconds(700, 120, 45, 30, 300), 0.05);
    }

    [Trait("requirement", "THRM-10")]
    [Theory]
    [InlineData(100, 150, 30, 40, 264, 0)]
    [InlineData(650, 40, 30, 40, 264, double.PositiveInfinity)]
    [InlineData(650, 150, 0, 40, 264, double.PositiveInfinity)]
    [InlineData(650, 150, 30, 40, 0, double.PositiveInfinity)]
    [InlineData(double.NaN, 150, 30, 40, 264, double.PositiveInfinity)]
    [InlineData(650, 150, 30, double.NaN, 264, double.PositiveInfinity)]
    public void What_cannot_be_reached_takes_for_ever(double from, double to, double cap, double floor, double tau, double seconds) =>
        Assert.Equal(seconds, TimeLeft.CoolDownSeconds(from, to, cap, floor, tau));

    [Fact]
    public void A_fall_tells_its_time_constant()
    {
        Assert.Equal(264, TimeLeft.TimeConstantSeconds(172, 40, -30), 1e-9);
        Assert.Equal(double.PositiveInfinity, TimeLeft.TimeConstantSeconds(172, 40, 5));
        Assert.Equal(double.PositiveInfinity, TimeLeft.TimeConstantSeconds(30, 40, -5));
        Assert.Equal(double.PositiveInfinity, TimeLeft.TimeConstantSeconds(172, 40, double.NaN));
    }

    [Fact]
    public void The_logarithm_agrees_with_that_of_the_library()
    {
        Gen.Double[1e-9, 1e9].Sample(x => Assert.Equal(Math.Log(x), NaturalLogarithm.Of(x), 1e-12 * Math.Max(1, Math.Abs(Math.Log(x)))));
        Gen.Double[0.5, 2].Sample(x => Assert.Equal(Math.Log(x), NaturalLogarithm.Of(x), 1e-14));
        Assert.Equal(double.NaN, NaturalLogarithm.Of(0));
        Assert.Equal(double.NaN, NaturalLogarithm.Of(-1));
        Assert.Equal(double.NaN, NaturalLogarithm.Of(double.NaN));
        Assert.Equal(double.PositiveInfinity, NaturalLogarithm.Of(double.PositiveInfinity));
    }
}
