namespace EdgeGuard.Core.Electrical;

/// <summary>
/// What the rating plate of a resistive heater implies: amperes per line, ohms per leg and between terminals, power at
/// another voltage. Circuit theory; compare resistances with these, not kilowatts, since power goes with the square
/// of the voltage. Data that are not above 0 give not a number.
/// </summary>
public static class HeaterRating
{
    private static readonly double RootThree = Math.Sqrt(3);

    /// <summary>Line current, I = P / (√3 U), A; the same in star and delta.</summary>
    /// <param name="ratedKw">Rated power, kW.</param>
    /// <param name="lineVolt">Voltage between two lines, V.</param>
    public static double LineAmpere(double ratedKw, double lineVolt) => Checked(1000 * ratedKw / (RootThree * lineVolt));

    /// <summary>Resistance of one leg, Ω: U²/P in star, 3 U²/P in delta.</summary>
    /// <param name="connection">Star or delta; anything else gives not a number.</param>
    /// <param name="ratedKw">Rated power, kW.</param>
    /// <param name="lineVolt">Voltage between two lines, V.</param>
    public static double LegOhm(HeaterConnection connection, double ratedKw, double lineVolt)
    {
        double star = lineVolt * lineVolt / (1000 * ratedKw);
        return connection switch
        {
            HeaterConnection.Star => Checked(star),
            HeaterConnection.Delta => Checked(3 * star),
            _ => double.NaN,
        };
    }

    /// <summary>Reading between two terminals, 2 U²/P, Ω: the same in star and delta, so it does not tell them apart.</summary>
    /// <param name="ratedKw">Rated power, kW.</param>
    /// <param name="lineVolt">Voltage between two lines, V.</param>
    public static double TerminalOhm(double ratedKw, double lineVolt) => Checked(2 * lineVolt * lineVolt / (1000 * ratedKw));

    /// <summary>Power at another voltage as a share of the rated one, (U/Un)².</summary>
    /// <param name="volt">Voltage, V.</param>
    /// <param name="ratedVolt">Rated voltage, V.</param>
    public static double PowerShare(double volt, double ratedVolt) => Checked(volt / ratedVolt * (volt / ratedVolt));

    private static double Checked(double value) => value > 0 && double.IsFinite(value) ? value : double.NaN;
}
