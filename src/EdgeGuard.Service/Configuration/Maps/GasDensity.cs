namespace EdgeGuard.Service.Configuration.Maps;

/// <summary>
/// Densities at the two reference states of volume flow meters, both at 101.325 kPa: 0 °C (DIN 1343, "Nm³") and 15 °C
/// (ISO 13443, "Sm³"). Ideal gas; the real density of these gases differs by less than 0.7 % there (CO2 most).
/// </summary>
internal static class GasDensity
{
    public const double NormalC = 0;
    public const double StandardC = 15;
    private const double PressurePa = 101_325;
    private const double GasConstant = 8.314462618; // J/(mol K), CODATA 2018, exact product of two defined constants rounded

    // Molar masses in g/mol: IUPAC conventional atomic weights; air: ISO 2533 (28.964420).
    private static readonly (string Name, double GramPerMole)[] Gases =
    [
        ("air", 28.96442),
        ("N2", 28.014),
        ("Ar", 39.95),
        ("CO2", 44.009),
        ("O2", 31.998),
    ];

    public static IEnumerable<string> Names => Gases.Select(g => g.Name);

    /// <summary>Density, kg/m³; NaN for an unknown gas.</summary>
    public static double KgPerCubicMetre(string gas, double temperatureC)
    {
        foreach ((string name, double gramPerMole) in Gases)
        {
            if (string.Equals(name, gas, StringComparison.Ordinal))
            {
                return PressurePa * gramPerMole / 1_000 / (GasConstant * (temperatureC + 273.15));
            }
        }

        return double.NaN;
    }
}
