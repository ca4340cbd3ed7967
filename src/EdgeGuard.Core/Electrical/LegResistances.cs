namespace EdgeGuard.Core.Electrical;

/// <summary>
/// Resistances of the three legs of a heater, Ω, solved from three readings between its terminals. A leg that is 10 %
/// high shows between the terminals as 5 % in star and 4.8 % in delta only, so legs are judged, not terminals.
/// Star: legs 1, 2, 3 from the star point to the terminals. Delta: legs 12, 23, 31 between the terminals.
/// Readings that no three legs can give lead to legs that are not above 0, see <see cref="AreLegs"/>.
/// </summary>
public readonly struct LegResistances
{
    /// <summary>Three legs.</summary>
    /// <param name="firstOhm">Leg 1 (star) or 12 (delta), Ω.</param>
    /// <param name="secondOhm">Leg 2 or 23, Ω.</param>
    /// <param name="thirdOhm">Leg 3 or 31, Ω.</param>
    public LegResistances(double firstOhm, double secondOhm, double thirdOhm)
    {
        FirstOhm = firstOhm;
        SecondOhm = secondOhm;
        ThirdOhm = thirdOhm;
    }

    /// <summary>Leg 1 (star) or 12 (delta), Ω.</summary>
    public double FirstOhm { get; }

    /// <summary>Leg 2 (star) or 23 (delta), Ω.</summary>
    public double SecondOhm { get; }

    /// <summary>Leg 3 (star) or 31 (delta), Ω.</summary>
    public double ThirdOhm { get; }

    /// <summary>True when all three are finite and above 0; otherwise a leg is open, a reading wrong or the connection another.</summary>
    public bool AreLegs => IsLeg(FirstOhm) && IsLeg(SecondOhm) && IsLeg(ThirdOhm);

    /// <summary>Largest over smallest leg less 1, per cent; positive infinity when they are no legs.</summary>
    public double SpreadPercent
    {
        get
        {
            double largest = Math.Max(FirstOhm, Math.Max(SecondOhm, ThirdOhm));
            double smallest = Math.Min(FirstOhm, Math.Min(SecondOhm, ThirdOhm));
            return AreLegs ? 100 * ((largest / smallest) - 1) : double.PositiveInfinity;
        }
    }

    /// <summary>Solves the legs from the readings between the terminals (circuit theory; star to delta by products).</summary>
    /// <param name="connection">Star or delta; anything else gives legs that are not a number.</param>
    /// <param name="terminal12Ohm">Reading between terminals 1 and 2, Ω, the cables' share taken off.</param>
    /// <param name="terminal23Ohm">Reading between terminals 2 and 3, Ω.</param>
    /// <param name="terminal31Ohm">Reading between terminals 3 and 1, Ω.</param>
    public static LegResistances FromTerminals(
        HeaterConnection connection, double terminal12Ohm, double terminal23Ohm, double terminal31Ohm)
    {
        double r1 = (terminal12Ohm + terminal31Ohm - terminal23Ohm) / 2;
        double r2 = (terminal12Ohm + terminal23Ohm - terminal31Ohm) / 2;
        double r3 = (terminal23Ohm + terminal31Ohm - terminal12Ohm) / 2;
        double products = (r1 * r2) + (r2 * r3) + (r3 * r1);
        return connection switch
        {
            HeaterConnection.Star => new LegResistances(r1, r2, r3),
            HeaterConnection.Delta => new LegResistances(products / r3, products / r1, products / r2),
            _ => new LegResistances(double.NaN, double.NaN, double.NaN),
        };
    }

    /// <summary>What an ohmmeter reads between the terminals 12, 23 and 31, Ω; infinite where nothing conducts.</summary>
    /// <param name="connection">Star or delta.</param>
    public (double Terminal12Ohm, double Terminal23Ohm, double Terminal31Ohm) Terminals(HeaterConnection connection) => connection switch
    {
        HeaterConnection.Star => (FirstOhm + SecondOhm, SecondOhm + ThirdOhm, ThirdOhm + FirstOhm),
        HeaterConnection.Delta => (
            Parallel(FirstOhm, SecondOhm + ThirdOhm),
            Parallel(SecondOhm, ThirdOhm + FirstOhm),
            Parallel(ThirdOhm, FirstOhm + SecondOhm)),
        _ => (double.NaN, double.NaN, double.NaN),
    };

    /// <summary>Conductances add up; an open branch has none.</summary>
    private static double Parallel(double a, double b) => 1 / ((1 / a) + (1 / b));

    private static bool IsLeg(double ohm) => ohm > 0 && double.IsFinite(ohm);
}
