using CsCheck;
using EdgeGuard.VirtualPlant.Faults;
using EdgeGuard.VirtualPlant.Ledger;
using EdgeGuard.VirtualPlant.Physics;
using EdgeGuard.VirtualPlant.Profiles;

namespace EdgeGuard.VirtualPlant.Tests.Physics;

/// <summary>Conservation of energy: what goes in is in the gas, in the lumps or lost.</summary>
public sealed class EnergyBalanceTests
{
    private static readonly FaultKind[] Disturbances =
        [FaultKind.None, FaultKind.BlowerStop, FaultKind.FilterClog, FaultKind.LegOpen, FaultKind.LegShorted, FaultKind.SupplyPhaseLost, FaultKind.SupplyHigh, FaultKind.ChainOpen];

    // Quasi-steady: nothing moves by more than 0.05 K in a minute.
    private const double StillK = 0.05;

    [Trait("requirement", "PLNT-5")]
    [Theory]
    [InlineData("N-1")]
    [InlineData("A-1")]
    [InlineData("T-40")]
    public void At_quasi_steady_state_power_less_loss_is_flow_times_the_Shomate_enthalpy_difference(string name)
    {
        Assert.True(PlantProfiles.TryFind(name, out PlantProfile? profile));
        var driver = new Driver(profile);
        driver.Steady(10_000);
        HeaterState s = driver.Heater;
        (double elementC, double liningC) = (s.ElementC, s.LiningC);
        driver.Run(60);
        Assert.InRange(s.ElementC - elementC, -StillK, StillK);
        Assert.InRange(s.LiningC - liningC, -StillK, StillK);

        // The loss is booked from the lining and the profile's own figure, not from the plant's word for it.
        double gasKw = s.PowerKw - (profile.LossWPerK / 1000.0 * (s.LiningC - profile.AmbientC));
        double kjPerKg = gasKw / (s.FlowKgPerHour / 3600.0);
        double expected = Shomate.KjPerKg(profile.Gas, driver.Cabinet.OutletIndicatedC) - Shomate.KjPerKg(profile.Gas, profile.InletC);
        Assert.InRange(kjPerKg, expected * 0.999, expected * 1.001);
    }

    /// <summary>
    /// Whatever is done to a cabinet, power is gas heat, loss and stored heat together: to a billionth of what went
    /// through, since each step books what it moves. The test keeps the books itself from temperatures and flow.
    /// </summary>
    [Trait("requirement", "PLNT-2")]
    [Fact]
    public void The_energy_balance_closes_over_any_run()
    {
        Gen<(int Output, int Blower, FaultKind Fault, int Seconds)> act = Gen.Select(
            Gen.Int[0, 1000], Gen.Int[0, 1000], Gen.Int[0, Disturbances.Length - 1].Select(static i => Disturbances[i]), Gen.Int[1, 90]);
        Gen.Select(Gen.Int[0, 2].Select(static i => PlantProfiles.All[i]), act.Array[1, 12]).Sample(
            (profile, acts) =>
            {
                var books = new EnergyBooks(profile);
                foreach ((int output, int blower, FaultKind fault, int seconds) in acts)
                {
                    books.Act(output, blower, fault, seconds);
                }

                double through = 1.0 + books.InKj + Math.Abs(books.OutKj);
                Assert.InRange(books.InKj - books.OutKj - books.StoredKj, -1e-9 * through, 1e-9 * through);
                UnitLedgerReport ledger = books.Ledger;
                Assert.InRange(ledger.EnergyResidualKj, -0.001, 0.001);
                Assert.Equal(books.InKj, ledger.EnergyInKj, 0.001);
                Assert.Equal(books.OutKj, ledger.EnergyToGasKj + ledger.EnergyLostKj, 0.002);
            },
            iter: 60);
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
