namespace EdgeGuard.Core.Thermal;

/// <summary>
/// Enthalpy of the process gas and what follows from it: power to heat a flow, outlet temperature without loss,
/// flow needed to keep a power below a ceiling. Decides the minimum flow of the FLOW interlock, so every input
/// that is not a number ends on the side of no power: an infinite flow is needed, an infinite temperature results.
/// </summary>
/// <remarks>
/// Source of the coefficients: NIST Chemistry WebBook, SRD 69, Shomate form (fits to the JANAF tables of 1998).
/// That form needs + − × ÷ only, so every machine gives the same bits; the NASA-9 form of the tests needs a
/// logarithm. Many published sets begin at 298 or 300 K, above a 20 °C inlet; those of N2 and O2 used here begin at
/// 100 K, and air is put together from its parts for that reason. CO2 is extended downwards from 298 K (0.1 % at
/// 0 °C, 0.5 % at −50 °C of the difference to 25 °C). Ideal gas: pressure does not enter.
/// </remarks>
public static class GasEnthalpy
{
    /// <summary>Lowest temperature with a value of its own, °C; below it the value at this end is given.</summary>
    public const double MinC = -50;

    /// <summary>Highest temperature with a value of its own, °C; above it the value at this end is given.</summary>
    public const double MaxC = 2200;

    private const double ZeroCelsiusKelvin = 273.15;
    private const double SecondsPerHour = 3600;

    // Halving 2250 K 56 times leaves 3e-14 K, about the last place of a temperature.
    private const int Bisections = 56;

    private static readonly ShomateSpecies N2 = new(
        28.0134,
        new ShomateSegment(500, 28.98641, 1.853978, -9.647459, 16.63537, 0.000117),
        new ShomateSegment(2000, 19.50583, 19.88705, -8.598535, 1.369784, 0.527601),
        new ShomateSegment(6000, 35.51872, 1.128728, -0.196103, 0.014662, -4.553760));

    private static readonly ShomateSpecies O2 = new(
        31.9988,
        new ShomateSegment(700, 31.32234, -20.23531, 57.86644, -36.50624, -0.007374),
        new ShomateSegment(2000, 30.03235, 8.772972, -3.988133, 0.788313, -0.741599),
        new ShomateSegment(6000, 20.91111, 10.72071, -2.020498, 0.146449, 9.245722));

    private static readonly ShomateSpecies Ar = new(
        39.948,
        new ShomateSegment(6000, 20.78600, 2.825911e-7, -1.464191e-7, 1.092131e-8, -3.661371e-8));

    private static readonly ShomateSpecies CO2 = new(
        44.0095,
        new ShomateSegment(1200, 24.99735, 55.18696, -33.69137, 7.948387, -0.136638),
        new ShomateSegment(6000, 58.16639, 2.720074, -0.492289, 0.038844, -6.447293));

    /// <summary>Molar mass, g/mol; not a number for <see cref="Gas.None"/>.</summary>
    /// <param name="gas">The gas.</param>
    public static double GramPerMol(Gas gas) => gas switch
    {
        Gas.Air => AirSum(N2.GramPerMol, O2.GramPerMol, Ar.GramPerMol, CO2.GramPerMol),
        Gas.Nitrogen => N2.GramPerMol,
        Gas.Argon => Ar.GramPerMol,
        Gas.CarbonDioxide => CO2.GramPerMol,
        Gas.Oxygen => O2.GramPerMol,
        _ => double.NaN,
    };

    /// <summary>True when <see cref="JoulePerKg"/> has a value of its own here, false when it gives that of an end.</summary>
    /// <param name="tCelsius">Temperature, °C.</param>
    public static bool IsInRange(double tCelsius) => tCelsius >= MinC && tCelsius <= MaxC;

    /// <summary>
    /// Specific enthalpy above 25 °C, J/kg, rising with temperature; clamped to <see cref="MinC"/> and
    /// <see cref="MaxC"/>, see <see cref="IsInRange"/>; not a number for no gas or no temperature.
    /// </summary>
    /// <param name="gas">The gas.</param>
    /// <param name="tCelsius">Temperature, °C.</param>
    public static double JoulePerKg(Gas gas, double tCelsius)
    {
        double kelvin = Math.Clamp(tCelsius, MinC, MaxC) + ZeroCelsiusKelvin;
        double joulePerMol = gas switch
        {
            Gas.Air => AirSum(
                N2.JoulePerMol(kelvin), O2.JoulePerMol(kelvin), Ar.JoulePerMol(kelvin), CO2.JoulePerMol(kelvin)),
            Gas.Nitrogen => N2.JoulePerMol(kelvin),
            Gas.Argon => Ar.JoulePerMol(kelvin),
            Gas.CarbonDioxide => CO2.JoulePerMol(kelvin),
            Gas.Oxygen => O2.JoulePerMol(kelvin),
            _ => double.NaN,
        };
        return 1000 * joulePerMol / GramPerMol(gas);
    }

    /// <summary>Enthalpy difference from inlet to outlet, J/kg; negative for cooling.</summary>
    /// <param name="gas">The gas.</param>
    /// <param name="inletC">Inlet temperature, °C.</param>
    /// <param name="outletC">Outlet temperature, °C.</param>
    public static double DeltaJoulePerKg(Gas gas, double inletC, double outletC) =>
        JoulePerKg(gas, outletC) - JoulePerKg(gas, inletC);

    /// <summary>Power that heats a flow without losses, kW.</summary>
    /// <param name="gas">The gas.</param>
    /// <param name="kgPerHour">Mass flow, kg/h.</param>
    /// <param name="inletC">Inlet temperature, °C.</param>
    /// <param name="outletC">Outlet temperature, °C.</param>
    public static double PowerToHeatKw(Gas gas, double kgPerHour, double inletC, double outletC) =>
        kgPerHour / SecondsPerHour * DeltaJoulePerKg(gas, inletC, outletC) / 1000;

    /// <summary>
    /// Outlet temperature when all power goes into the gas, °C. Positive infinity above <see cref="MaxC"/>, without
    /// flow, and for any input that is not a number; never below the inlet.
    /// </summary>
    /// <param name="gas">The gas.</param>
    /// <param name="kgPerHour">Mass flow, kg/h.</param>
    /// <param name="powerKw">Power, kW; 0 and below leave the gas at the inlet temperature.</param>
    /// <param name="inletC">Inlet temperature, °C.</param>
    public static double AdiabaticOutletC(Gas gas, double kgPerHour, double powerKw, double inletC)
    {
        if (powerKw <= 0 && double.IsFinite(inletC))
        {
            return inletC;
        }

        double target = JoulePerKg(gas, inletC) + (1000 * powerKw * SecondsPerHour / kgPerHour);
        if (!(kgPerHour > 0) || !(target <= JoulePerKg(gas, MaxC)))
        {
            return double.PositiveInfinity;
        }

        return Bisect(gas, target, Math.Max(inletC, MinC));
    }

    /// <summary>
    /// Flow at which a power just heats the gas to the ceiling, kg/h. Positive infinity when the inlet is at or above
    /// the ceiling and for any input that is not a number; 0 without power.
    /// </summary>
    /// <param name="gas">The gas.</param>
    /// <param name="powerKw">Power, kW.</param>
    /// <param name="inletC">Inlet temperature, °C.</param>
    /// <param name="ceilingC">Temperature the gas must not pass, °C: the trip limit, never the setpoint.</param>
    public static double MinimumFlowKgPerHour(Gas gas, double powerKw, double inletC, double ceilingC)
    {
        double delta = DeltaJoulePerKg(gas, inletC, ceilingC);
        if (!(delta > 0) || double.IsNaN(powerKw))
        {
            return double.PositiveInfinity;
        }

        return powerKw <= 0 ? 0 : 1000 * powerKw * SecondsPerHour / delta;
    }

    private static double Bisect(Gas gas, double targetJoulePerKg, double lowC)
    {
        double low = lowC;
        double high = MaxC;
        for (int i = 0; i < Bisections; i++)
        {
            double middle = (low + high) / 2;
            if (JoulePerKg(gas, middle) < targetJoulePerKg)
            {
                low = middle;
            }
            else
            {
                high = middle;
            }
        }

        return high;
    }

    /// <summary>Mole fractions of dry air, NASA/TP-2002-211556, record "Air"; their sum is 1.</summary>
    private static double AirSum(double n2, double o2, double ar, double co2) =>
        (0.780840 * n2) + (0.209476 * o2) + (0.009365 * ar) + (0.000319 * co2);
}
