namespace EdgeGuard.Core.Electrical;

/// <summary>
/// Line currents and power of a heater on a symmetrical supply, from its legs: what PHAS must expect with sound legs,
/// with an open leg (infinite resistance), with an aged leg, with a lost supply line. Resistive legs, no neutral.
/// </summary>
public readonly struct LineCurrents
{
    private const double Half = 0.5;
    private static readonly double HalfRootThree = Math.Sqrt(3) / 2;

    private LineCurrents(double first, double second, double third, double watt)
    {
        FirstAmpere = first;
        SecondAmpere = second;
        ThirdAmpere = third;
        PowerKw = watt / 1000;
    }

    /// <summary>RMS current of line 1, A.</summary>
    public double FirstAmpere { get; }

    /// <summary>RMS current of line 2, A.</summary>
    public double SecondAmpere { get; }

    /// <summary>RMS current of line 3, A.</summary>
    public double ThirdAmpere { get; }

    /// <summary>Power of all legs, kW.</summary>
    public double PowerKw { get; }

    /// <summary>Currents at full conduction. Legs of 0 Ω, negative ones and missing data give not a number.</summary>
    /// <param name="connection">Star or delta.</param>
    /// <param name="legs">Legs, Ω; positive infinity is an open one.</param>
    /// <param name="lineVolt">Voltage between two lines, V.</param>
    /// <param name="lost">A line that is missing at the heater.</param>
    public static LineCurrents Of(HeaterConnection connection, LegResistances legs, double lineVolt, LostLine lost = LostLine.None)
    {
        if (connection is not (HeaterConnection.Star or HeaterConnection.Delta) || !Conducts(legs) || !(lineVolt >= 0))
        {
            return new LineCurrents(double.NaN, double.NaN, double.NaN, double.NaN);
        }

        // Everything as a delta of conductances: leg 12 between lines 1 and 2, and so on.
        (double g12, double g23, double g31) = connection == HeaterConnection.Delta
            ? (1 / legs.FirstOhm, 1 / legs.SecondOhm, 1 / legs.ThirdOhm)
            : StarAsDelta(1 / legs.FirstOhm, 1 / legs.SecondOhm, 1 / legs.ThirdOhm);
        return lost switch
        {
            LostLine.First => SinglePhase(g23 + Series(g12, g31), lineVolt, 0, 1, 1),
            LostLine.Second => SinglePhase(g31 + Series(g12, g23), lineVolt, 1, 0, 1),
            LostLine.Third => SinglePhase(g12 + Series(g23, g31), lineVolt, 1, 1, 0),
            _ => ThreePhase(g12, g23, g31, lineVolt),
        };
    }

    private static (double G12, double G23, double G31) StarAsDelta(double g1, double g2, double g3)
    {
        double sum = g1 + g2 + g3;
        return sum > 0 ? (g1 * g2 / sum, g2 * g3 / sum, g3 * g1 / sum) : (0, 0, 0);
    }

    /// <summary>U12 points along the real axis, U23 lags by 120 degrees, U31 leads by 120 degrees.</summary>
    private static LineCurrents ThreePhase(double g12, double g23, double g31, double volt)
    {
        double first = Magnitude(g12 + (Half * g31), -HalfRootThree * g31);
        double second = Magnitude(-(Half * g23) - g12, -HalfRootThree * g23);
        double third = Magnitude(Half * (g23 - g31), HalfRootThree * (g31 + g23));
        return new LineCurrents(volt * first, volt * second, volt * third, volt * volt * (g12 + g23 + g31));
    }

    private static LineCurrents SinglePhase(double conductance, double volt, int first, int second, int third)
    {
        double ampere = volt * conductance;
        return new LineCurrents(first * ampere, second * ampere, third * ampere, volt * ampere);
    }

    private static double Series(double a, double b) => a + b > 0 ? a * b / (a + b) : 0;

    private static double Magnitude(double real, double imaginary) => Math.Sqrt((real * real) + (imaginary * imaginary));

    private static bool Conducts(LegResistances legs) => legs.FirstOhm > 0 && legs.SecondOhm > 0 && legs.ThirdOhm > 0;
}
