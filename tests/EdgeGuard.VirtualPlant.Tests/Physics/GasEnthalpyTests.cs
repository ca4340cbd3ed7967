using EdgeGuard.VirtualPlant.Physics;
using EdgeGuard.VirtualPlant.Profiles;

namespace EdgeGuard.VirtualPlant.Tests.Physics;

/// <summary>
/// The plant's NASA-9 enthalpy against other published forms. Shomate coefficients A to E: NIST Chemistry WebBook
/// (SRD 69, public domain data of the US government), read second-hand; F and H from memory, checked by ΔH(298.15) = 0
/// and by the joints of the ranges.
/// </summary>
public sealed class GasEnthalpyTests
{
    [Theory]
    [InlineData(100)]
    [InlineData(300)]
    [InlineData(650)]
    [InlineData(900)]
    [InlineData(1100)]
    public void Nitrogen_agrees_with_Shomate_within_a_thousandth(double celsius)
    {
        double expected = (Shomate.NitrogenKjPerMol(celsius) - Shomate.NitrogenKjPerMol(20)) / 28.0134 * 1000;
        double actual = GasEnthalpy.KjPerKg(GasKind.Nitrogen, celsius) - GasEnthalpy.KjPerKg(GasKind.Nitrogen, 20);
        Assert.InRange(actual, expected * 0.999, expected * 1.001);
    }

    [Theory]
    [InlineData(100)]
    [InlineData(220)]
    [InlineData(650)]
    [InlineData(1100)]
    public void Air_agrees_with_the_Shomate_sum_of_its_species_within_two_thousandths(double celsius)
    {
        double expected = Shomate.AirKjPerKg(celsius) - Shomate.AirKjPerKg(25);
        double actual = GasEnthalpy.KjPerKg(GasKind.Air, celsius) - GasEnthalpy.KjPerKg(GasKind.Air, 25);
        Assert.InRange(actual, expected * 0.998, expected * 1.002);
    }

    /// <summary>Ideal-gas air tables (Keenan and Kaye; Moran and Shapiro, table A-22), h in kJ/kg, from memory.</summary>
    [Theory]
    [InlineData(600, 607.02)]
    [InlineData(1000, 1046.04)]
    [InlineData(1400, 1515.42)]
    public void Air_agrees_with_the_textbook_table(double kelvin, double kjPerKg)
    {
        double actual = GasEnthalpy.KjPerKg(GasKind.Air, kelvin - 273.15) - GasEnthalpy.KjPerKg(GasKind.Air, 300 - 273.15);
        Assert.InRange(actual, (kjPerKg - 300.19) * 0.9995, (kjPerKg - 300.19) * 1.0005);
    }

    /// <summary>The coefficient file's own reference state: H(298.15 K) is 0 for nitrogen and −125.530 J/mol for air.</summary>
    [Fact]
    public void Enthalpy_at_the_reference_temperature_is_that_of_the_coefficient_file()
    {
        Assert.InRange(GasEnthalpy.KjPerKg(GasKind.Nitrogen, 25) * 28.0134, -1.0, 1.0);
        Assert.InRange(GasEnthalpy.KjPerKg(GasKind.Air, 25) * 28.9651159, -126.53, -124.53);
    }

    [Fact]
    public void The_two_ranges_meet_at_1000_K()
    {
        foreach (GasKind gas in new[] { GasKind.Nitrogen, GasKind.Air })
        {
            double below = GasEnthalpy.KjPerKg(gas, 726.85 - 1e-6);
            double above = GasEnthalpy.KjPerKg(gas, 726.85 + 1e-6);
            Assert.InRange(above - below, -0.01, 0.01);
        }
    }

    [Fact]
    public void A_gas_without_coefficients_is_refused() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => GasEnthalpy.KjPerKg(GasKind.None, 20));
}
