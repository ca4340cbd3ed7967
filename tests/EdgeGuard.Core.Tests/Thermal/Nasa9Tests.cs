namespace EdgeGuard.Core.Tests.Thermal;

/// <summary>The oracle is checked first, against figures of its own source.</summary>
public sealed class Nasa9Tests
{
    // NASA thermo.inp lists H(298.15 K) of each record beside the coefficients; the file was fitted with R = 8.314510.
    [Theory]
    [InlineData("N2", 0, 1)]
    [InlineData("O2", 0, 1)]
    [InlineData("Ar", 0, 1)]
    [InlineData("Air", -125.530, 1)]
    [InlineData("CO2", -393510, 10)]
    public void The_oracle_gives_the_heat_of_formation_of_its_own_source(string species, double joulePerMol, double tolerance) =>
        Assert.Equal(joulePerMol, Nasa9.JoulePerMol(species, 298.15, 8.314510), tolerance);

    // The two ranges of each record meet at 1000 K; a wrong digit in one coefficient would open a step there.
    [Theory]
    [InlineData("N2")]
    [InlineData("O2")]
    [InlineData("Ar")]
    [InlineData("Air")]
    [InlineData("CO2")]
    public void The_two_ranges_of_the_oracle_meet_at_1000_K(string species) =>
        Assert.Equal(Nasa9.JoulePerMol(species, 1000), Nasa9.JoulePerMol(species, 1000.0001), 0.1);

    // The record "Air" and the sum of its parts are the same gas above 300 K.
    [Fact]
    public void Air_of_the_oracle_is_the_sum_of_its_parts()
    {
        double parts = Nasa9.JoulePerKg(Core.Thermal.Gas.Air, 1100) - Nasa9.JoulePerKg(Core.Thermal.Gas.Air, 30);
        double record = (Nasa9.JoulePerMol("Air", 1373.15) - Nasa9.JoulePerMol("Air", 303.15)) / 28.9651159e-3;
        Assert.Equal(1, record / parts, 2e-5);
    }
}
