namespace EdgeGuard.Core.Electrical;

/// <summary>
/// Legs of a heater from what is measured while it fires: the magnitudes of the three line currents say how the legs
/// stand to each other on a symmetrical supply, the power says how large they are. No voltage is needed, and an even sag of
/// the supply changes nothing. Solved by Newton's method from even legs; a pattern that no three sound legs give has no answer.
/// </summary>
public static class LegEstimate
{
    private const int StepsMax = 12;
    private const double Close = 1e-9;
    private const double Nudge = 1e-6;

    /// <summary>A leg this far from another, as a factor, is no aged leg but a broken one: PHAS has to say so.</summary>
    private const double FactorMax = 3;

    /// <summary>Computes the legs.</summary>
    /// <param name="connection">Star without neutral, or delta.</param>
    /// <param name="firstAmpere">RMS current of line 1, A, over whole firing cycles.</param>
    /// <param name="secondAmpere">RMS current of line 2, A.</param>
    /// <param name="thirdAmpere">RMS current of line 3, A.</param>
    /// <param name="watt">Mean power over the same time, W.</param>
    /// <param name="legs">The legs, Ω.</param>
    /// <returns>False where there is no answer.</returns>
    public static bool TryFromLines(HeaterConnection connection, double firstAmpere, double secondAmpere, double thirdAmpere, double watt, out LegResistances legs)
    {
        legs = default;
        if (!(firstAmpere > 0 && secondAmpere > 0 && thirdAmpere > 0 && watt > 0) || !double.IsFinite(firstAmpere + secondAmpere + thirdAmpere + watt))
        {
            return false;
        }

        double wantedSecond = secondAmpere / firstAmpere;
        double wantedThird = thirdAmpere / firstAmpere;
        (double second, double third) = (1, 1);
        for (int step = 0; step < StepsMax; step++)
        {
            (double errorSecond, double errorThird) = Errors(connection, second, third, wantedSecond, wantedThird);
            if (Math.Abs(errorSecond) + Math.Abs(errorThird) < Close)
            {
                return IsPlausible(second, third) && TryScale(connection, second, third, firstAmpere, watt, out legs);
            }

            if (!TryStep(connection, ref second, ref third, errorSecond, errorThird, wantedSecond, wantedThird))
            {
                return false;
            }
        }

        return false;
    }

    private static bool TryStep(HeaterConnection connection, ref double second, ref double third, double errorSecond, double errorThird, double wantedSecond, double wantedThird)
    {
        (double a, double c) = Errors(connection, second + Nudge, third, wantedSecond, wantedThird);
        (double b, double d) = Errors(connection, second, third + Nudge, wantedSecond, wantedThird);
        (a, b, c, d) = ((a - errorSecond) / Nudge, (b - errorSecond) / Nudge, (c - errorThird) / Nudge, (d - errorThird) / Nudge);
        double determinant = (a * d) - (b * c);
        second -= ((d * errorSecond) - (b * errorThird)) / determinant;
        third -= ((a * errorThird) - (c * errorSecond)) / determinant;
        return second > 0 && third > 0 && double.IsFinite(second + third);
    }

    private static (double Second, double Third) Errors(HeaterConnection connection, double second, double third, double wantedSecond, double wantedThird)
    {
        LineCurrents lines = LineCurrents.Of(connection, new LegResistances(1, second, third), 1);
        return ((lines.SecondAmpere / lines.FirstAmpere) - wantedSecond, (lines.ThirdAmpere / lines.FirstAmpere) - wantedThird);
    }

    private static bool IsPlausible(double second, double third)
    {
        double most = Math.Max(1, Math.Max(second, third));
        double least = Math.Min(1, Math.Min(second, third));
        return most <= FactorMax * least;
    }

    /// <summary>At legs k times as large and a voltage V the current is V f / k and the power V² p / k, so P / I² = k p / f².</summary>
    private static bool TryScale(HeaterConnection connection, double second, double third, double firstAmpere, double watt, out LegResistances legs)
    {
        LineCurrents unit = LineCurrents.Of(connection, new LegResistances(1, second, third), 1);
        double k = watt * unit.FirstAmpere * unit.FirstAmpere / (firstAmpere * firstAmpere * unit.PowerKw * 1000);
        legs = new LegResistances(k, k * second, k * third);
        return k > 0 && double.IsFinite(k);
    }
}
