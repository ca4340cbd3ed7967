using EdgeGuard.VirtualPlant.Cabinets;
using EdgeGuard.VirtualPlant.Profiles;

namespace EdgeGuard.VirtualPlant.Tests.Cabinets;

/// <summary>The cascade's logic: cap, wind-up, bumpless take-up, and its two sensors.</summary>
public sealed class CascadeLoopTests
{
    private static readonly CascadeTuning Tuning = PlantProfiles.T40.Cascade!;

    [Fact]
    public void The_element_setpoint_is_capped_and_the_trim_does_not_wind_up_behind_the_cap()
    {
        var loop = new CascadeLoop(Tuning, 20);
        for (int step = 0; step < 60_000; step++)
        {
            loop.Step(new LoopValues(1100, 900, 1220), 100, 0.01);
            Assert.InRange(loop.ElementSetpointC, 20, Tuning.ElementMaxC);
        }

        // Ten minutes behind the cap: with the outlet at its setpoint the element is asked for what it is expected to need.
        loop.Step(new LoopValues(1100, 1100, 1220), 100, 0.01);
        Assert.InRange(loop.ElementSetpointC, 1180, Tuning.ElementMaxC);
        // Past it the setpoint leaves the cap.
        loop.Step(new LoopValues(1100, 1150, 1220), 100, 0.01);
        Assert.True(loop.ElementSetpointC < Tuning.ElementMaxC - 20, $"still at {loop.ElementSetpointC:F0} °C");
    }

    [Fact]
    public void Behind_a_saturated_output_the_trim_does_not_wind_up()
    {
        var loop = new CascadeLoop(Tuning, 20);
        for (int step = 0; step < 60_000; step++)
        {
            loop.Step(new LoopValues(500, 100, 120), 100, 0.01);
        }

        Assert.Equal(100.0, loop.OutputPercent);
        loop.Step(new LoopValues(500, 510, 560), 100, 0.01);
        Assert.InRange(loop.OutputPercent, 0, 99);
    }

    [Fact]
    public void It_takes_up_a_hot_heater_without_a_bump()
    {
        var loop = new CascadeLoop(Tuning, 20);
        var hot = new LoopValues(600, 600, 700);
        loop.Track(hot, 30);
        loop.Step(hot, 100, 0.01);
        Assert.Equal(700, loop.ElementSetpointC, 0.1);
        Assert.Equal(30, loop.OutputPercent, 0.5);
    }

    [Fact]
    public void A_broken_thermocouple_while_blocked_leaves_no_trim_behind()
    {
        var loop = new CascadeLoop(Tuning, 20);
        loop.Track(new LoopValues(600, Thermocouple.BrokenC, 700), 0);
        loop.Step(new LoopValues(600, 600, 646), 100, 0.01);
        // 20 + 580 × 1.079.
        Assert.Equal(645.8, loop.ElementSetpointC, 0.1);
    }

    [Fact]
    public void Without_its_element_sensor_a_cascade_asks_for_no_power_and_a_single_loop_does_not_care()
    {
        foreach ((PlantProfile profile, bool powered) in new[] { (PlantProfiles.T40, false), (PlantProfiles.N1, true) })
        {
            var driver = new Driver(profile);
            driver.Energise();
            driver.Setpoint(400);
            driver.Run(5);
            Assert.True(driver.Heater.PowerKw > 1);
            driver.Fault(Faults.FaultKind.ElementBreak);
            driver.Run(1);
            Assert.Equal(powered, driver.Heater.PowerKw > 1);
        }
    }
}
