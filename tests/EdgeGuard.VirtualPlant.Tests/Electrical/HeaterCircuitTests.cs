using CsCheck;
using EdgeGuard.VirtualPlant.Electrical;

namespace EdgeGuard.VirtualPlant.Tests.Electrical;

/// <summary>
/// The circuit against circuit theory: balanced loads, one open leg, one lost phase, one aged leg, and the star-delta
/// transformation. Figures without another source follow from Kirchhoff's laws by hand.
/// </summary>
public sealed class HeaterCircuitTests
{
    private const double PhaseV = 400.0 / 1.7320508075688772;

    /// <summary>I = P/(√3 U); legs U²/P in star and 3 U²/P in delta.</summary>
    [Trait("requirement", "PLNT-3")]
    [Theory]
    [InlineData(15.0, 21.65, 10.667, 32.0)]
    [InlineData(36.0, 51.96, 4.444, 13.333)]
    [InlineData(40.0, 57.74, 4.0, 12.0)]
    [InlineData(60.0, 86.60, 2.667, 8.0)]
    public void A_balanced_load_draws_its_rated_current_in_star_and_in_delta(double kw, double amperes, double starOhm, double deltaOhm)
    {
        foreach ((LoadConnection connection, double ohm) in new[] { (LoadConnection.Star, starOhm), (LoadConnection.Delta, deltaOhm) })
        {
            CircuitFlows flows = HeaterCircuit.Solve(connection, PhaseV, ThreePhase.All(1.0 / ohm), Phases.All, Phases.All);
            Assert.Equal(kw, flows.PowerKw, kw * 1e-3);
            AssertEach(ThreePhase.All(amperes), flows.CurrentSquaredA2.Root(), amperes * 1e-3);
        }
    }

    /// <summary>One leg of the element open: star 0.866/0.866/0 and half of the power, delta 1/0.577/0.577 and two thirds.</summary>
    [Trait("requirement", "PLNT-3")]
    [Theory]
    [InlineData(LoadConnection.Star, 0.8660, 0.8660, 0.0, 0.5, 100.0, 1.0)]
    [InlineData(LoadConnection.Delta, 0.5774, 1.0, 0.5774, 0.6667, 39.2, 0.5)]
    public void One_open_leg(LoadConnection connection, double one, double two, double three, double power, double deviationPercent, double negative)
    {
        // The third delta leg lies between lines 3 and 1, so line 2 keeps its two legs.
        (ThreePhase currents, double share) = Relative(connection, ThreePhase.All(1.0).Scaled(Phases.L3, 0.0), Phases.All);
        AssertEach(new ThreePhase(one, two, three), currents, 1e-4);
        Assert.Equal(power, share, 1e-4);
        Assert.Equal(deviationPercent, Unbalance.MaxDeviationPercent(currents), 0.05);
        Assert.Equal(negative, Unbalance.NegativeOverPositive(currents), 1e-3);
    }

    [Trait("requirement", "PLNT-3")]
    [Theory]
    [InlineData(LoadConnection.Star)]
    [InlineData(LoadConnection.Delta)]
    public void One_lost_phase_leaves_half_of_the_power_and_two_equal_currents(LoadConnection connection)
    {
        (ThreePhase currents, double share) = Relative(connection, ThreePhase.All(1.0), Phases.All & ~Phases.L2);
        AssertEach(new ThreePhase(0.8660, 0.0, 0.8660), currents, 1e-4);
        Assert.Equal(0.5, share, 1e-9);
    }

    [Theory]
    [InlineData(LoadConnection.Star)]
    [InlineData(LoadConnection.Delta)]
    public void A_lost_phase_is_fed_back_through_the_load_to_half_of_its_voltage(LoadConnection connection)
    {
        // The floating line stands half-way between the two others: |V1 + V2|/2 is half of a phase voltage.
        CircuitFlows flows = HeaterCircuit.Solve(connection, PhaseV, ThreePhase.All(0.2), Phases.L1 | Phases.L2, Phases.All);
        AssertEach(new ThreePhase(PhaseV, PhaseV, PhaseV / 2.0), flows.VoltageSquaredV2.Root(), 1e-9);
        CircuitFlows open = HeaterCircuit.Solve(connection, PhaseV, ThreePhase.All(0.2), Phases.L1 | Phases.L2, Phases.None);
        AssertEach(new ThreePhase(PhaseV, PhaseV, 0.0), open.VoltageSquaredV2.Root(), 1e-9);
    }

    /// <summary>
    /// Leg 3 times k in star without neutral: I3 = 3/(1 + 2k) of normal by the moved star point, so 15/16 at k = 1.1;
    /// power 31/32. The ageing criterion of +10 % is common practice without a source.
    /// </summary>
    [Trait("requirement", "PLNT-3")]
    [Fact]
    public void A_leg_with_ten_per_cent_more_resistance()
    {
        (ThreePhase currents, double share) = Relative(LoadConnection.Star, new ThreePhase(1.0, 1.0, 1.0 / 1.1), Phases.All);
        Assert.Equal(15.0 / 16.0, currents.L3, 1e-12);
        Assert.Equal(31.0 / 32.0, share, 1e-12);
        Assert.Equal(currents.L1, currents.L2, 1e-12);
        Assert.Equal(Math.Sqrt(1.0 + (1.0 / 1024.0) - (1.0 / 32.0)), currents.L1, 1e-12);
    }

    [Theory]
    [InlineData(0.90, 0.81)]
    [InlineData(0.95, 0.9025)]
    [InlineData(1.05, 1.1025)]
    [InlineData(1.10, 1.21)]
    public void Power_goes_with_the_square_of_the_voltage(double factor, double share)
    {
        double nominal = HeaterCircuit.Solve(LoadConnection.Star, PhaseV, ThreePhase.All(0.2), Phases.All, Phases.All).PowerKw;
        double actual = HeaterCircuit.Solve(LoadConnection.Star, PhaseV * factor, ThreePhase.All(0.2), Phases.All, Phases.All).PowerKw;
        Assert.Equal(share, actual / nominal, 1e-9);
    }

    /// <summary>Star-delta transformation: the delta leg between 1 and 2 is N/r3 with N = r1 r2 + r2 r3 + r3 r1.</summary>
    [Trait("requirement", "PLNT-3")]
    [Fact]
    public void A_star_and_its_equivalent_delta_draw_the_same_currents()
    {
        Gen<double> ohm = Gen.Double[0.5, 50.0];
        Gen.Select(ohm, ohm, ohm, Gen.Int[0, 7]).Sample((r1, r2, r3, lines) =>
        {
            double n = (r1 * r2) + (r2 * r3) + (r3 * r1);
            CircuitFlows star = HeaterCircuit.Solve(LoadConnection.Star, PhaseV, new ThreePhase(1 / r1, 1 / r2, 1 / r3), Phases.All, (Phases)lines);
            CircuitFlows delta = HeaterCircuit.Solve(LoadConnection.Delta, PhaseV, new ThreePhase(r3 / n, r1 / n, r2 / n), Phases.All, (Phases)lines);
            Assert.Equal(star.PowerKw, delta.PowerKw, 1e-9 * (1 + star.PowerKw));
            AssertEach(star.CurrentSquaredA2.Root(), delta.CurrentSquaredA2.Root(), 1e-5);
        });
    }

    /// <summary>What the lines deliver is what the legs turn into heat: Tellegen's theorem for the star.</summary>
    [Fact]
    public void Power_is_the_heat_of_the_legs()
    {
        Gen<double> siemens = Gen.OneOf(Gen.Const(0.0), Gen.Double[0.01, 1.0]);
        Gen.Select(siemens, siemens, siemens, Gen.Int[0, 7]).Sample((g1, g2, g3, lines) =>
        {
            CircuitFlows flows = HeaterCircuit.Solve(LoadConnection.Star, PhaseV, new ThreePhase(g1, g2, g3), (Phases)lines, Phases.All);
            ThreePhase i = flows.CurrentSquaredA2;
            double heat = Heat(i.L1, g1) + Heat(i.L2, g2) + Heat(i.L3, g3);
            Assert.Equal(heat / 1000.0, flows.PowerKw, 1e-6);
        });
    }

    private static double Heat(double squared, double siemens) => siemens > 0.0 ? squared / siemens : 0.0;

    /// <summary>Currents and power over those of the sound load.</summary>
    private static (ThreePhase Currents, double Power) Relative(LoadConnection connection, ThreePhase siemens, Phases supplied)
    {
        CircuitFlows sound = HeaterCircuit.Solve(connection, PhaseV, ThreePhase.All(1.0), Phases.All, Phases.All);
        CircuitFlows faulty = HeaterCircuit.Solve(connection, PhaseV, siemens, supplied, Phases.All);
        return (faulty.CurrentSquaredA2.Root().Times(1.0 / Math.Sqrt(sound.CurrentSquaredA2.L1)), faulty.PowerKw / sound.PowerKw);
    }

    private static void AssertEach(ThreePhase expected, ThreePhase actual, double tolerance)
    {
        Assert.Equal(expected.L1, actual.L1, tolerance);
        Assert.Equal(expected.L2, actual.L2, tolerance);
        Assert.Equal(expected.L3, actual.L3, tolerance);
    }
}
