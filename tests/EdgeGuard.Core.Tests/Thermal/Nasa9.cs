using System.Globalization;
using EdgeGuard.Core.Thermal;

namespace EdgeGuard.Core.Tests.Thermal;

/// <summary>
/// The oracle: NASA-9 polynomials with their logarithm, from the coefficients in vectors/nasa9.csv
/// (NASA/TP-2002-211556). Nothing of it is shared with the code under test.
/// </summary>
internal static class Nasa9
{
    private const double R = 8.314462618; // CODATA 2018

    private static readonly double[][] Rows = Vectors.Rows("nasa9.csv")
        .Select(row => row[1..].Select(text => double.Parse(text, CultureInfo.InvariantCulture)).ToArray())
        .ToArray();

    private static readonly string[] Names = Vectors.Rows("nasa9.csv").Select(row => row[0]).ToArray();

    public static string Name(Gas gas) => gas switch
    {
        Gas.Air => "Air",
        Gas.Nitrogen => "N2",
        Gas.Oxygen => "O2",
        Gas.Argon => "Ar",
        Gas.CarbonDioxide => "CO2",
        _ => throw new ArgumentOutOfRangeException(nameof(gas)),
    };

    public static Gas Parse(string name) => name switch
    {
        "Air" => Gas.Air,
        "N2" => Gas.Nitrogen,
        "O2" => Gas.Oxygen,
        "Ar" => Gas.Argon,
        "CO2" => Gas.CarbonDioxide,
        _ => throw new ArgumentOutOfRangeException(nameof(name)),
    };

    public static double GramPerMol(string species) => Find(species, 0)[0];

    /// <summary>Enthalpy including the heat of formation, J/mol.</summary>
    public static double JoulePerMol(string species, double t, double gasConstant = R)
    {
        double[] c = Find(species, t);
        double[] a = c[2..9];
        return gasConstant * ((-a[0] / t) + (a[1] * Math.Log(t)) + (a[2] * t) + (a[3] * t * t / 2)
            + (a[4] * Math.Pow(t, 3) / 3) + (a[5] * Math.Pow(t, 4) / 4) + (a[6] * Math.Pow(t, 5) / 5) + c[9]);
    }

    /// <summary>Enthalpy above 25 °C, J/kg. Air below 300 K, where its own record ends, from its parts.</summary>
    public static double JoulePerKg(Gas gas, double celsius)
    {
        if (gas == Gas.Air)
        {
            double sum = (0.78084 * Above("N2", celsius)) + (0.209476 * Above("O2", celsius))
                + (0.009365 * Above("Ar", celsius)) + (0.000319 * Above("CO2", celsius));
            return 1000 * sum / GramPerMol("Air");
        }

        return 1000 * Above(Name(gas), celsius) / GramPerMol(Name(gas));
    }

    private static double Above(string species, double celsius) =>
        JoulePerMol(species, celsius + 273.15) - JoulePerMol(species, 298.15);

    private static double[] Find(string species, double kelvin)
    {
        for (int i = 0; i < Rows.Length; i++)
        {
            if (string.Equals(Names[i], species, StringComparison.Ordinal) && kelvin <= Rows[i][1])
            {
                return Rows[i];
            }
        }

        throw new ArgumentOutOfRangeException(nameof(species));
    }
}
