using EdgeGuard.VirtualPlant.Cabinets;

namespace EdgeGuard.VirtualPlant.Tests.Cabinets;

/// <summary>The controller against the textbook response of a PI with conditional integration.</summary>
public sealed class PiControllerTests
{
    [Fact]
    public void The_integral_repeats_the_proportional_part_once_per_integral_time()
    {
        var pi = new PiController(2.0, 10.0);
        // The first call shows the proportional part alone; 1000 steps of 10 ms are one integral time.
        for (int step = 0; step <= 1000; step++)
        {
            pi.Step(110, 100, 100, 0.01);
        }

        Assert.Equal(40.0, pi.OutputPercent, 6);
    }

    [Fact]
    public void After_ten_minutes_at_full_output_the_controller_leaves_it_as_soon_as_the_error_turns()
    {
        var pi = new PiController(2.0, 10.0);
        for (int step = 0; step < 60_000; step++)
        {
            pi.Step(200, 100, 100, 0.01);
        }

        Assert.Equal(100.0, pi.OutputPercent);
        pi.Step(200, 201, 100, 0.01);
        Assert.InRange(pi.OutputPercent, 0.0, 99.0);
        pi.Track(0);
        for (int step = 0; step < 60_000; step++)
        {
            pi.Step(100, 200, 100, 0.01);
        }

        Assert.Equal(0.0, pi.OutputPercent);
        pi.Step(100, 90, 100, 0.01);
        Assert.Equal(20.0, pi.OutputPercent, 1);
    }

    [Fact]
    public void The_output_limit_caps_the_output_and_the_integral_does_not_wind_up_behind_it()
    {
        var pi = new PiController(1, 10);
        for (int i = 0; i < 6000; i++)
        {
            pi.Step(200, 100, 80, 0.01);
            Assert.InRange(pi.OutputPercent, 0, 80);
        }

        Assert.Equal(80, pi.OutputPercent);
        pi.Step(200, 201, 80, 0.01);
        Assert.True(pi.OutputPercent < 80);
    }
}
