using EdgeGuard.VirtualPlant.Faults;
using EdgeGuard.VirtualPlant.Physics;
using EdgeGuard.VirtualPlant.Profiles;

namespace EdgeGuard.VirtualPlant.Tests.Physics;

/// <summary>Blower, meter and thermocouples against the exact answers of first-order lags.</summary>
public sealed class FlowAndSensorTests
{
    [Fact]
    public void A_stopped_blower_coasts_down_by_its_time_constant()
    {
        var driver = new Driver(PlantProfiles.A1);
        driver.Energise();
        driver.Run(30);
        double before = driver.Heater.FlowKgPerHour;
        driver.Fault(FaultKind.BlowerStop);
        driver.Run(1.5);
        // One time constant leaves e^-1; the explicit step is a little fast.
        Assert.InRange(driver.Heater.FlowKgPerHour / before, 0.364, 0.370);
        driver.Run(30);
        Assert.Equal(0.0, driver.Heater.FlowKgPerHour);
    }

    [Fact]
    public void The_meter_lags_and_reads_zero_below_three_per_cent_of_its_range()
    {
        var driver = new Driver(PlantProfiles.N1);
        driver.Energise();
        driver.Run(30);
        driver.Fault(FaultKind.BlowerStop);
        while (driver.Cabinet.MeterKgPerHour > 0)
        {
            Assert.True(driver.Cabinet.MeterKgPerHour > driver.Heater.FlowKgPerHour, "a falling flow reads late");
            Assert.True(driver.Cabinet.MeterKgPerHour >= 7.5, "3 % of 250 kg/h is the smallest reading");
            driver.Plant.Advance(5);
        }

        Assert.InRange(driver.Heater.MeterKgPerHour, 7.4, 7.5);
    }

    [Theory]
    [InlineData("N-1", 0.80)]
    [InlineData("A-1", 0.95)]
    [InlineData("T-40", 0.70)]
    public void At_fixed_speed_the_hot_blower_moves_less_mass_by_the_ratio_of_the_profile(string name, double hotToCold)
    {
        Assert.True(PlantProfiles.TryFind(name, out PlantProfile? profile));
        var driver = new Driver(profile);
        driver.Energise();
        driver.Setpoint(20);
        driver.Run(30);
        double cold = driver.Heater.FlowKgPerHour;
        driver.Setpoint(profile.SetpointC);
        driver.Run(3000);
        // The cold nitrogen of N-1 comes at 40 °C, not at the hall's 20 °C: 20/630 of the way already.
        Assert.InRange(driver.Heater.FlowKgPerHour / cold, hotToCold - 0.001, hotToCold + 0.01);
    }

    [Fact]
    public void A_clogged_filter_leaves_its_share_of_the_flow()
    {
        var driver = new Driver(PlantProfiles.A1);
        driver.Energise();
        driver.Run(30);
        double before = driver.Heater.FlowKgPerHour;
        driver.Fault(FaultKind.FilterClog, 0.4);
        driver.Run(10);
        Assert.InRange(driver.Heater.FlowKgPerHour / before, 0.399, 0.401);
    }

    [Theory]
    [InlineData(140.0)]
    [InlineData(35.0)]
    public void The_outlet_thermocouple_lags_with_the_inverse_root_of_the_flow(double flow)
    {
        HeaterState s = HeaterState.Cold(40);
        (s.ElementC, s.DuctC) = (500, 200);
        Driver.RunHeater(PlantProfiles.N1, s, 0.005, 0, flow);
        s.OutletJunctionC = 100;
        HeaterModel.Step(PlantProfiles.N1, s, 0, s.BlowerSpeed, 1.0, 1);
        double slope = (s.OutletJunctionC - 100) / 0.001;
        double tauS = 5 * Math.Sqrt(140 / flow);
        Assert.InRange(slope, (s.DuctC - 100) / tauS * 0.99, (s.DuctC - 100) / tauS * 1.01);
    }

    [Fact]
    public void The_stagnant_duct_cools_with_a_minute_while_the_element_stays_hot()
    {
        HeaterState s = HeaterState.Cold(20);
        (s.ElementC, s.LiningC, s.DuctC, s.OutletJunctionC) = (800, 700, 620, 620);
        Driver.RunHeater(PlantProfiles.N1, s, 60, 0, 0);
        Assert.InRange(s.DuctC, 20 + (600 * 0.367), 20 + (600 * 0.369));
        Assert.True(s.ElementC > 700);
    }

    [Theory]
    [InlineData(FaultKind.ElementBreak, 9999.0)]
    [InlineData(FaultKind.ElementShort, 20.0)]
    public void A_broken_or_shorted_element_thermocouple_reads_its_fixed_value(FaultKind kind, double reading)
    {
        Driver driver = Hot(kind);
        Assert.Equal(reading, driver.Cabinet.ElementIndicatedC);
        Assert.Equal(kind == FaultKind.ElementBreak, (driver.Cabinet.StatusWord() & (1 << 5)) != 0);
    }

    [Fact]
    public void A_reversed_thermocouple_falls_as_the_element_heats()
    {
        Driver driver = Hot(FaultKind.ElementReverse);
        Assert.Equal(40.0 - driver.Heater.ElementJunctionC, driver.Cabinet.ElementIndicatedC, 9);
        Assert.True(driver.Cabinet.ElementIndicatedC < 0);
    }

    [Fact]
    public void A_frozen_thermocouple_keeps_its_reading_and_looks_healthy()
    {
        Driver driver = Hot(FaultKind.None);
        double before = driver.Cabinet.ElementIndicatedC;
        driver.Fault(FaultKind.ElementFreeze);
        driver.Run(20);
        Assert.Equal(before, driver.Cabinet.ElementIndicatedC);
        Assert.True(driver.Heater.ElementC > before + 20);
        Assert.Equal(0, driver.Cabinet.StatusWord() & (1 << 5));
    }

    private static Driver Hot(FaultKind kind)
    {
        var driver = new Driver(PlantProfiles.N1);
        driver.Energise();
        driver.Setpoint(600);
        driver.Run(20);
        if (kind != FaultKind.None)
        {
            driver.Fault(kind);
        }

        driver.Run(5);
        return driver;
    }
}
