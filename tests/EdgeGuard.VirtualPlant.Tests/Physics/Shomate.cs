using EdgeGuard.VirtualPlant.Profiles;

namespace EdgeGuard.VirtualPlant.Tests.Physics;

/// <summary>Shomate enthalpies ΔH = A t + B t²/2 + C t³/3 + D t⁴/4 − E/t + F − H, kJ/mol, t in 1000 K; see the tests for the source.</summary>
internal static class Shomate
{
    public static double KjPerKg(GasKind gas, double celsius) => gas == GasKind.Air ? AirKjPerKg(celsius) : NitrogenKjPerMol(celsius) / 28.0134 * 1000;

    public static double NitrogenKjPerMol(double celsius)
    {
        double kelvin = celsius + 273.15;
        return kelvin <= 500
            ? Of(kelvin, 28.98641, 1.853978, -9.647459, 16.63537, 0.000117, -8.671914, 0)
            : Of(kelvin, 19.50583, 19.88705, -8.598535, 1.369784, 0.527601, -4.935202, 0);
    }

    /// <summary>Air of the CEA file: N2 78.084, O2 20.9476, Ar 0.9365, CO2 0.0319 per cent.</summary>
    public static double AirKjPerKg(double celsius)
    {
        double kelvin = celsius + 273.15;
        double mol = (0.78084 * NitrogenKjPerMol(celsius)) + (0.209476 * Oxygen(kelvin)) + (0.009365 * Argon(kelvin)) + (0.000319 * CarbonDioxide(kelvin));
        return mol / 28.9651159 * 1000;
    }

    private static double Oxygen(double kelvin) => kelvin <= 700
        ? Of(kelvin, 31.32234, -20.23531, 57.86644, -36.50624, -0.007374, -8.903471, 0)
        : Of(kelvin, 30.03235, 8.772972, -3.988133, 0.788313, -0.741599, -11.32468, 0);

    private static double Argon(double kelvin) => Of(kelvin, 20.786, 2.825911e-7, -1.464191e-7, 1.092131e-8, -3.661371e-8, -6.197350, 0);

    private static double CarbonDioxide(double kelvin) => kelvin <= 1200
        ? Of(kelvin, 24.99735, 55.18696, -33.69137, 7.948387, -0.136638, -403.6075, -393.5224)
        : Of(kelvin, 58.16639, 2.720074, -0.492289, 0.038844, -6.447293, -425.9186, -393.5224);

    private static double Of(double kelvin, double a, double b, double c, double d, double e, double f, double h)
    {
        double t = kelvin / 1000;
        return (a * t) + (b * t * t / 2) + (c * t * t * t / 3) + (d * t * t * t * t / 4) - (e / t) + f - h;
    }
}
