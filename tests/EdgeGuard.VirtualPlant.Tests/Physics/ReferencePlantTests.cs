using EdgeGuard.VirtualPlant.Cabinets;
using EdgeGuard.VirtualPlant.Faults;
using EdgeGuard.VirtualPlant.Physics;
using EdgeGuard.VirtualPlant.Profiles;

namespace EdgeGuard.VirtualPlant.Tests.Physics;

/// <summary>
/// The invented plants against the figures of a two-lump calculation that was made with their profiles (gas by NTU,
/// NASA-9 enthalpy); tolerance 10 % of the figure unless stated. Not all of it is independent: effective emissivity,
/// still-gas lag, stagnation share and the tuning of N-1 are not among the given facts and were chosen so that the
/// blower-stop and shorted-leg figures come out. Steady states, adiabatic outlet, dry-fire rise and the removal at
/// 90 kg/h involve none of them, or hardly.
/// </summary>
public sealed class ReferencePlantTests
{
    [Theory]
    [InlineData("N-1", 27.0, 728.0, 140.0)]
    [InlineData("A-1", 8.7, 245.0, 150.0)]
    [InlineData("T-40", 25.0, 1185.0, 70.0)]
    public void Steady_power_element_and_flow_are_those_of_the_reference(string name, double powerKw, double elementC, double flow)
    {
        Assert.True(PlantProfiles.TryFind(name, out PlantProfile? profile));
        var driver = new Driver(profile);
        driver.Steady();
        Near(profile.SetpointC, driver.Cabinet.OutletIndicatedC, 0.002);
        Near(powerKw, driver.Heater.PowerKw, 0.03);
        Near(elementC, driver.Heater.ElementC, 0.02);
        Near(flow, driver.Heater.FlowKgPerHour, 0.005);
    }

    [Fact]
    public void Blower_stops_in_automatic_and_the_controller_asks_for_full_power_while_the_outlet_looks_healthy()
    {
        Driver driver = SteadyN1();
        driver.Fault(FaultKind.BlowerStop);
        driver.Run(10);
        Assert.True(driver.Cabinet.OutputPercent < 60, "first the controller cuts back");
        driver.Run(31);
        Near(850, driver.Heater.ElementC, 0.10);
        driver.Run(14);
        Near(1000, driver.Heater.ElementC, 0.10);
        driver.Run(5);
        Near(1061, driver.Heater.ElementC, 0.10);
        Near(430, driver.Cabinet.OutletIndicatedC, 0.10);
        Assert.Equal(100.0, driver.Cabinet.OutputPercent);
        driver.Run(120);
        Near(1563, driver.Heater.ElementC, 0.10);
    }

    [Fact]
    public void Blower_stops_in_manual()
    {
        Driver driver = SteadyN1();
        driver.Write(CabinetRegisters.ManualOutputAddress, 739);
        driver.Write(CabinetRegisters.ManualAddress, 1);
        driver.Fault(FaultKind.BlowerStop);
        driver.Run(10);
        Near(26.6, driver.Heater.PowerKw, 0.005);
        Near(808, driver.Heater.ElementC, 0.02);
    }

    [Fact]
    public void Shorted_leg_after_an_element_trip_is_held_by_full_flow_and_not_by_little_flow()
    {
        HeaterState full = HotN1();
        Driver.RunHeater(PlantProfiles.N1, full, 600, 18.0, 140.0);
        Near(545, full.ElementC, 0.03);
        HeaterState little = HotN1();
        Driver.RunHeater(PlantProfiles.N1, little, 600, 18.0, 45.0);
        Near(1011, little.ElementC, 0.03);
    }

    [Fact]
    public void Powered_cool_down_at_30_K_a_minute_needs_no_power_any_more_at_about_172_C()
    {
        Driver driver = SteadyN1();
        double setpoint = 650;
        while (driver.Cabinet.OutputPercent > 0 && setpoint > 60)
        {
            setpoint -= 0.25;
            driver.Setpoint(setpoint);
            // The reference held 140 kg/h; at fixed speed the blower would move more mass as the gas cools.
            double share = 140 / driver.Cabinet.Profile.ColdFullFlowKgPerHour / HeaterModel.HotFactor(driver.Cabinet.Profile, driver.Heater.DuctC);
            driver.Write(CabinetRegisters.BlowerAddress, (ushort)Math.Round(share * 1000));
            driver.Run(0.5);
        }

        Near(172, driver.Cabinet.OutletIndicatedC, 0.10);
    }

    [Fact]
    public void Power_removed_at_1100_C_and_90_kg_an_hour_cools_the_wire_as_the_reference_does()
    {
        PlantProfile profile = PlantProfiles.T40;
        HeaterState state = HeaterState.Cold(20);
        (state.ElementC, state.LiningC, state.DuctC) = (1190, 1150, 1100);
        // A crude hold of the gas at 1100 °C, so that the start is a steady state.
        for (int second = 0; second < 1200; second++)
        {
            Driver.RunHeater(profile, state, 1, 31.0 + (0.5 * (1100 - state.GasC)), 90);
        }

        double startC = state.ElementC;
        Near(1100, state.GasC, 0.003);
        Driver.RunHeater(profile, state, 1, 0, 90);
        Assert.InRange(startC - state.ElementC, 11.7, 14.3);
        Driver.RunHeater(profile, state, 4, 0, 90);
        Assert.InRange(startC - state.ElementC, 54, 66);
        Driver.RunHeater(profile, state, 55, 0, 90);
        Assert.InRange(startC - state.ElementC, 380, 440);
    }

    [Theory]
    [InlineData("N-1", 875.0)]
    [InlineData("A-1", 371.0)]
    [InlineData("T-40", 1805.0)]
    public void Full_power_without_losses_gives_the_adiabatic_outlet_of_the_reference(string name, double outletC)
    {
        Assert.True(PlantProfiles.TryFind(name, out PlantProfile? profile));
        double kjPerKg = profile.RatedKw * 3600 / profile.HotFlowKgPerHour;
        Near(kjPerKg, GasEnthalpy.KjPerKg(profile.Gas, outletC) - GasEnthalpy.KjPerKg(profile.Gas, profile.InletC), 0.002);
    }

    [Theory]
    [InlineData("N-1", 16.9)]
    [InlineData("A-1", 22.0)]
    [InlineData("T-40", 19.8)]
    public void Dry_fire_rise_at_ten_per_cent_over_voltage_is_power_over_heat_capacity(string name, double kelvinPerSecond)
    {
        Assert.True(PlantProfiles.TryFind(name, out PlantProfile? profile));
        HeaterState state = HeaterState.Cold(profile.AmbientC);
        double powerKw = profile.RatedKw * 1.1 * 1.1;
        HeaterModel.Step(profile, state, powerKw, 0.0, 1.0, 5);
        double slope = (state.ElementC - profile.AmbientC) / 0.005;
        Near(powerKw / (profile.WireKg * profile.WireKjPerKgK), slope, 1e-9);
        Near(kelvinPerSecond, slope, 0.01);
    }

    private static Driver SteadyN1()
    {
        var driver = new Driver(PlantProfiles.N1);
        driver.Steady();
        return driver;
    }

    /// <summary>N-1 at the element trip: element 850 °C, lining still near its steady temperature.</summary>
    private static HeaterState HotN1()
    {
        HeaterState state = HeaterState.Cold(20);
        (state.ElementC, state.LiningC, state.DuctC, state.OutletJunctionC) = (850, 671, 700, 700);
        return state;
    }

    private static void Near(double expected, double actual, double share) =>
        Assert.InRange(actual, expected * (1 - share), expected * (1 + share));
}
