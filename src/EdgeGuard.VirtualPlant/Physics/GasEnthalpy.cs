using EdgeGuard.VirtualPlant.Profiles;

namespace EdgeGuard.VirtualPlant.Physics;

/// <summary>
/// Specific enthalpy of the process gas from the NASA nine-coefficient polynomials (McBride, Zehe, Gordon,
/// NASA/TP-2002-211556): H/R = −a1/T + a2 ln T + a3 T + a4 T²/2 + a5 T³/3 + a6 T⁴/4 + a7 T⁵/5 + b1, two ranges that
/// meet at 1000 K. This is deliberately another form than the one the guard computes with.
/// </summary>
public static class GasEnthalpy
{
    /// <summary>Molar gas constant, J/(mol K); exact since the 2019 revision of the SI.</summary>
    private const double GasConstant = 8.31446261815324;

    private const double SwitchK = 1000.0;

    private const double ZeroCelsiusK = 273.15;

    private static readonly double[] NitrogenLow =
        [2.210371497e4, -3.818461820e2, 6.082738360, -8.530914410e-3, 1.384646189e-5, -9.625793620e-9, 2.519705809e-12, 7.108460860e2];

    private static readonly double[] NitrogenHigh =
        [5.877124060e5, -2.239249073e3, 6.066949220, -6.139685500e-4, 1.491806679e-7, -1.923105485e-11, 1.061954386e-15, 1.283210415e4];

    // The Air record starts at 300 K; at the 293 K of the hall the extrapolation differs by 0.002 % from the sum of
    // the species, far below what a virtual plant needs.
    private static readonly double[] AirLow =
        [1.009950160e4, -1.968275610e2, 5.009155110, -5.761013730e-3, 1.066859930e-5, -7.940297970e-9, 2.185231910e-12, -1.767967310e2];

    private static readonly double[] AirHigh =
        [2.415214430e5, -1.257874600e3, 5.144558670, -2.138541790e-4, 7.065227840e-8, -1.071483490e-11, 6.577800150e-16, 6.462263190e3];

    /// <summary>Specific enthalpy against 25 °C, kJ/kg.</summary>
    /// <param name="gas">Nitrogen or Air.</param>
    /// <param name="celsius">Temperature, °C; −20 to 2500.</param>
    public static double KjPerKg(GasKind gas, double celsius)
    {
        double kelvin = celsius + ZeroCelsiusK;
        bool low = kelvin < SwitchK;
        return gas switch
        {
            GasKind.Nitrogen => GasConstant / 28.0134 * Reduced(low ? NitrogenLow : NitrogenHigh, kelvin),
            GasKind.Air => GasConstant / 28.9651159 * Reduced(low ? AirLow : AirHigh, kelvin),
            _ => throw new ArgumentOutOfRangeException(nameof(gas), gas, "No coefficients for this gas."),
        };
    }

    private static double Reduced(double[] a, double t)
    {
        double powers = a[2] + (t * ((a[3] / 2) + (t * ((a[4] / 3) + (t * ((a[5] / 4) + (t * a[6] / 5)))))));
        return (-a[0] / t) + (a[1] * Math.Log(t)) + (t * powers) + a[7];
    }
}
