using System.Numerics;
using CsCheck;
using EdgeGuard.Core.Electrical;

namespace EdgeGuard.Core.Tests.Electrical;

/// <summary>
/// Legs from line currents and power against phasors: Kirchhoff's laws in complex numbers, star point after Millman, worked
/// apart from the code (which knows magnitudes only).
/// </summary>
public sealed class LegEstimateTests
{
    private static readonly Complex Turn = Complex.FromPolarCoordinates(1, -2 * Math.PI / 3);

    [Trait("requirement", "THRM-20")]
    [Theory]
    [InlineData(HeaterConnection.Star, 4.4, 4.4, 4.4)]
    [InlineData(HeaterConnection.Star, 4.84, 4.4, 4.4)]
    [InlineData(HeaterConnection.Star, 4.4, 4.84, 4.4)]
    [InlineData(HeaterConnection.Star, 4.4, 4.4, 5.28)]
    [InlineData(HeaterConnection.Delta, 13.2, 13.2, 13.2)]
    [InlineData(HeaterConnection.Delta, 14.52, 13.2, 13.2)]
    [InlineData(HeaterConnection.Delta, 13.2, 13.2, 15.84)]
    public void A_leg_ten_or_twenty_per_cent_up_is_found_from_currents_and_power(HeaterConnection connection, double first, double second, double third)
    {
        foreach (double volt in new[] { 400.0, 380, 130 })
        {
            Assert.True(Estimate(connection, new LegResistances(first, second, third), volt, out LegResistances found));
            Assert.Equal(first, found.FirstOhm, 1e-6 * first);
            Assert.Equal(second, found.SecondOhm, 1e-6 * second);
            Assert.Equal(third, found.ThirdOhm, 1e-6 * third);
        }
    }

    [Fact]
    public void Any_legs_within_a_factor_of_one_and_a_half_come_back()
    {
        Gen.Select(Gen.Double[0.82, 1.22], Gen.Double[0.82, 1.22], Gen.Double[0.82, 1.22], Gen.Bool).Sample((a, b, c, star) =>
        {
            HeaterConnection connection = star ? HeaterConnection.Star : HeaterConnection.Delta;
            Assert.True(Estimate(connection, new LegResistances(a, b, c), 400, out LegResistances found));
            Assert.Equal(a, found.FirstOhm, 1e-5);
            Assert.Equal(b, found.SecondOhm, 1e-5);
            Assert.Equal(c, found.ThirdOhm, 1e-5);
        });
    }

    // A dead line, an open leg, a missing reading: no legs to follow, PHAS has to speak.
    [Theory]
    [InlineData(0, 45, 45, 18)]
    [InlineData(52, 90, 52, 24)]
    [InlineData(52, 52, double.NaN, 36)]
    [InlineData(52, 52, 52, 0)]
    [InlineData(10, 100, 10, 36)]
    public void What_no_three_sound_legs_give_has_no_answer(double first, double second, double third, double kilowatt) =>
        Assert.False(LegEstimate.TryFromLines(HeaterConnection.Star, first, second, third, kilowatt * 1000, out _));

    private static bool Estimate(HeaterConnection connection, LegResistances legs, double volt, out LegResistances found)
    {
        (Complex[] lines, double watt) = connection == HeaterConnection.Star ? Star(legs, volt) : Delta(legs, volt);
        return LegEstimate.TryFromLines(connection, lines[0].Magnitude, lines[1].Magnitude, lines[2].Magnitude, watt, out found);
    }

    private static (Complex[] Lines, double Watt) Star(LegResistances legs, double volt)
    {
        Complex[] phase = [volt / Math.Sqrt(3), volt / Math.Sqrt(3) * Turn, volt / Math.Sqrt(3) * Turn * Turn];
        double[] ohm = [legs.FirstOhm, legs.SecondOhm, legs.ThirdOhm];
        Complex starPoint = ((phase[0] / ohm[0]) + (phase[1] / ohm[1]) + (phase[2] / ohm[2])) / ((1 / ohm[0]) + (1 / ohm[1]) + (1 / ohm[2]));
        Complex[] lines = [.. Enumerable.Range(0, 3).Select(i => (phase[i] - starPoint) / ohm[i])];
        return (lines, Enumerable.Range(0, 3).Sum(i => lines[i].Magnitude * lines[i].Magnitude * ohm[i]));
    }

    private static (Complex[] Lines, double Watt) Delta(LegResistances legs, double volt)
    {
        Complex[] leg = [volt / legs.FirstOhm, volt * Turn / legs.SecondOhm, volt * Turn * Turn / legs.ThirdOhm];
        return ([leg[0] - leg[2], leg[1] - leg[0], leg[2] - leg[1]], (volt * volt / legs.FirstOhm) + (volt * volt / legs.SecondOhm) + (volt * volt / legs.ThirdOhm));
    }
}
