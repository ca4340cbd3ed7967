using EdgeGuard.VirtualPlant.Cabinets;
using EdgeGuard.VirtualPlant.Electrical;
using EdgeGuard.VirtualPlant.Faults;
using EdgeGuard.VirtualPlant.Profiles;

namespace EdgeGuard.VirtualPlant.Tests.Electrical;

/// <summary>Faults of supply, controller legs and element legs, as the cabinet's power and registers show them.</summary>
public sealed class PowerStageTests
{
    // 36 kW at 400 V: P/(√3 U).
    private const double RatedA = 51.9615;

    private const double PhaseV = 230.940;

    [Fact]
    public void At_half_output_the_true_RMS_current_is_the_root_of_one_half()
    {
        Driver driver = Manual(PlantProfiles.N1, 50);
        AssertEach(ThreePhase.All(RatedA * Math.Sqrt(0.5)), driver.Cabinet.Electrical.CurrentsA, 1e-3);
        AssertEach(ThreePhase.All(PhaseV), driver.Cabinet.Electrical.VoltagesV, 1e-3);
    }

    [Fact]
    public void The_registers_change_once_a_firing_cycle()
    {
        // Three seconds since the start are whole cycles of 500 ms.
        Driver driver = Manual(PlantProfiles.N1, 50);
        double before = driver.Cabinet.Electrical.CurrentsA.L1;
        driver.Write(CabinetRegisters.ManualOutputAddress, 1000);
        driver.Plant.Advance(495);
        Assert.Equal(36.0, driver.Heater.PowerKw, 1e-9);
        Assert.Equal(before, driver.Cabinet.Electrical.CurrentsA.L1);
        driver.Plant.Advance(5);
        Assert.Equal(RatedA, driver.Cabinet.Electrical.CurrentsA.L1, 1e-3);
    }

    [Trait("requirement", "PLNT-3")]
    [Theory]
    [InlineData(1, 0.0, 0.8660, 0.8660)]
    [InlineData(2, 0.8660, 0.0, 0.8660)]
    [InlineData(3, 0.8660, 0.8660, 0.0)]
    public void An_open_leg_and_a_lost_phase_take_half_of_the_power_and_the_voltage_tells_them_apart(int leg, double one, double two, double three)
    {
        foreach (FaultKind kind in new[] { FaultKind.LegOpen, FaultKind.SupplyPhaseLost })
        {
            Driver driver = Manual(PlantProfiles.N1, 100);
            driver.Fault(kind, leg);
            driver.Run(2);
            Assert.Equal(18.0, driver.Heater.PowerKw, 1e-9);
            AssertEach(new ThreePhase(one, two, three).Times(RatedA), driver.Cabinet.Electrical.CurrentsA, 0.01);
            double lowest = Math.Min(driver.Cabinet.Electrical.VoltagesV.L1, Math.Min(driver.Cabinet.Electrical.VoltagesV.L2, driver.Cabinet.Electrical.VoltagesV.L3));
            Assert.Equal(kind == FaultKind.LegOpen ? PhaseV : PhaseV / 2.0, lowest, 1e-2);
        }
    }

    [Trait("requirement", "PLNT-3")]
    [Fact]
    public void In_delta_an_open_leg_leaves_two_thirds_and_a_lost_phase_one_half()
    {
        Driver driver = Manual(PlantProfiles.N1 with { Connection = LoadConnection.Delta }, 100);
        Assert.Equal(36.0, driver.Heater.PowerKw, 1e-9);
        AssertEach(ThreePhase.All(RatedA), driver.Cabinet.Electrical.CurrentsA, 1e-3);
        driver.Fault(FaultKind.LegOpen, 1);
        driver.Run(2);
        Assert.Equal(24.0, driver.Heater.PowerKw, 1e-9);
        AssertEach(new ThreePhase(0.5774, 0.5774, 1.0).Times(RatedA), driver.Cabinet.Electrical.CurrentsA, 0.01);
        driver.Cabinet.Faults.ClearAll();
        driver.Fault(FaultKind.SupplyPhaseLost, 1);
        driver.Run(2);
        Assert.Equal(18.0, driver.Heater.PowerKw, 1e-9);
    }

    [Fact]
    public void A_leg_ten_per_cent_high_shows_in_its_current()
    {
        Driver driver = Manual(PlantProfiles.N1, 100);
        driver.Fault(FaultKind.LegHigh, 1.1);
        driver.Run(2);
        // See HeaterCircuitTests: 15/16 of the current and 31/32 of the power.
        Assert.Equal(36.0 * 31.0 / 32.0, driver.Heater.PowerKw, 1e-9);
        Assert.Equal(RatedA * 15.0 / 16.0, driver.Cabinet.Electrical.CurrentsA.L3, 1e-3);
    }

    /// <summary>A single line that conducts has no way back: of a three-leg controller it carries nothing, of a two-leg one it does.</summary>
    [Trait("requirement", "PLNT-3")]
    [Theory]
    [InlineData(3, 1, 0.0)]
    [InlineData(3, 2, 18.0)]
    [InlineData(3, 3, 36.0)]
    [InlineData(2, 1, 18.0)]
    [InlineData(2, 2, 36.0)]
    public void Shorted_legs_leave_what_the_circuit_lets_flow_while_the_output_is_zero(int controlledLegs, int shorted, double leftKw)
    {
        Driver driver = Manual(PlantProfiles.N1 with { ControlledLegs = controlledLegs }, 0);
        Assert.Equal(0.0, driver.Heater.PowerKw, 1e-9);
        driver.Fault(FaultKind.LegShorted, shorted);
        driver.Run(2);
        Assert.Equal(leftKw, driver.Heater.PowerKw, 1e-9);
        driver.Write(CabinetRegisters.RelayAddress, 0);
        driver.Run(1);
        Assert.Equal(0.0, driver.Heater.PowerKw);
    }

    [Theory]
    [InlineData(3)]
    [InlineData(2)]
    public void Without_an_argument_a_shorted_leg_leaves_half_of_the_rated_power(int controlledLegs)
    {
        Driver driver = Manual(PlantProfiles.N1 with { ControlledLegs = controlledLegs }, 50);
        driver.Fault(FaultKind.LegShorted);
        driver.Run(2);
        Assert.Equal(27.0, driver.Heater.PowerKw, 1e-9);
    }

    [Fact]
    public void Low_and_high_supply_change_power_and_voltage_registers_and_not_the_resistance()
    {
        Driver driver = Manual(PlantProfiles.A1, 100);
        foreach ((FaultKind kind, double factor) in new[] { (FaultKind.SupplyLow, 0.9), (FaultKind.SupplyHigh, 1.1) })
        {
            driver.Cabinet.Faults.ClearAll();
            driver.Fault(kind, factor);
            driver.Run(2);
            Assert.Equal(15.0 * factor * factor, driver.Heater.PowerKw, 1e-9);
            Assert.Equal(PhaseV * factor, driver.Cabinet.Electrical.VoltagesV.L2, 1e-3);
            // 15 kW at 400 V in star: 10.667 Ω a leg.
            Assert.Equal(10.667, driver.Cabinet.Electrical.VoltagesV.L2 / driver.Cabinet.Electrical.CurrentsA.L2, 1e-3);
        }
    }

    [Fact]
    public void Leakage_flows_only_while_the_element_is_live()
    {
        Driver driver = Manual(PlantProfiles.N1, 100);
        Assert.Equal(3.6, driver.Cabinet.Electrical.LeakageMa, 1e-9);
        driver.Fault(FaultKind.EarthLeakage, 60);
        driver.Run(2);
        Assert.Equal(63.6, driver.Cabinet.Electrical.LeakageMa, 1e-9);
        driver.Write(CabinetRegisters.EnableAddress, 0);
        driver.Run(2);
        Assert.Equal(0.0, driver.Cabinet.Electrical.LeakageMa);
    }

    private static Driver Manual(PlantProfile profile, int percent)
    {
        var driver = new Driver(profile);
        driver.Energise();
        driver.Write(CabinetRegisters.ManualAddress, 1);
        driver.Write(CabinetRegisters.ManualOutputAddress, (ushort)(percent * 10));
        driver.Run(3);
        return driver;
    }

    private static void AssertEach(ThreePhase expected, ThreePhase actual, double tolerance)
    {
        Assert.Equal(expected.L1, actual.L1, tolerance);
        Assert.Equal(expected.L2, actual.L2, tolerance);
        Assert.Equal(expected.L3, actual.L3, tolerance);
    }
}
