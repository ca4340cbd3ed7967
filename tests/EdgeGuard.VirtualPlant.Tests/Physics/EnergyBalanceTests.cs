using EdgeGuard.VirtualPlant.Physics;
using EdgeGuard.VirtualPlant.Profiles;

namespace EdgeGuard.VirtualPlant.Tests.Physics;

/// <summary>Conservation of energy: what goes in is in the gas, in the lumps or lost.</summary>
public sealed class EnergyBalanceTests
{
    [Fact]
    public void Steady_gas_heat_of_nitrogen_is_flow_times_the_Shomate_enthalpy_difference()
    {
        var driver = new Driver(PlantProfiles.N1);
        driver.Steady(2400);
        HeaterState s = driver.Heater;
        double perKg = (Shomate.NitrogenKjPerMol(s.GasC) - Shomate.NitrogenKjPerMol(40)) / 28.0134 * 1000;
        double expectedKw = s.FlowKgPerHour / 3600 * perKg;
        Assert.InRange(s.PowerKw - s.LossKw, expectedKw * 0.998, expectedKw * 1.002);
        Assert.InRange(expectedKw, 25.7 * 0.99, 25.7 * 1.01);
    }

    [Fact]
    public void Steady_gas_heat_of_air_is_flow_times_the_Shomate_enthalpy_difference()
    {
        var driver = new Driver(PlantProfiles.A1);
        driver.Steady(2400);
        HeaterState s = driver.Heater;
        double expectedKw = s.FlowKgPerHour / 3600 * (Shomate.AirKjPerKg(s.GasC) - Shomate.AirKjPerKg(20));
        Assert.InRange(s.PowerKw - s.LossKw, expectedKw * 0.998, expectedKw * 1.002);
    }

    [Fact]
    public void Over_heat_up_flow_stop_and_cooling_the_energies_add_up()
    {
        PlantProfile p = PlantProfiles.N1;
        HeaterState s = HeaterState.Cold(p.AmbientC);
        double inKj = 0;
        double outKj = 0;
        for (int step = 0; step < 200 * 900; step++)
        {
            double second = step / 200.0;
            double powerKw = second < 400 ? 30 : second < 450 ? 36 : 0;
            double share = second < 400 ? 0.8 : second < 450 ? 0 : 0.8;
            HeaterModel.Step(p, s, powerKw, share, 1.0, 5);
            inKj += powerKw * 0.005;
            outKj += (s.GasKw + s.LossKw) * 0.005;
        }

        double storedKj = (p.WireKg * p.WireKjPerKgK * (s.ElementC - p.AmbientC)) + (p.LiningKjPerK * (s.LiningC - p.AmbientC));
        Assert.InRange(outKj + storedKj, inKj * 0.9999, inKj * 1.0001);
    }

    [Fact]
    public void Halving_the_step_changes_the_element_by_less_than_a_tenth_of_a_kelvin()
    {
        HeaterState coarse = HeaterState.Cold(20);
        HeaterState fine = HeaterState.Cold(20);
        for (int step = 0; step < 200 * 120; step++)
        {
            double share = step < 200 * 80 ? 0.8 : 0.0;
            HeaterModel.Step(PlantProfiles.N1, coarse, 30, share, 1.0, 4);
            HeaterModel.Step(PlantProfiles.N1, fine, 30, share, 1.0, 2);
            HeaterModel.Step(PlantProfiles.N1, fine, 30, share, 1.0, 2);
        }

        Assert.InRange(coarse.ElementC - fine.ElementC, -0.1, 0.1);
    }
}
