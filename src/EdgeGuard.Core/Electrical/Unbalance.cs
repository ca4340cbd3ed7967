namespace EdgeGuard.Core.Electrical;

/// <summary>
/// Unbalance of three phase quantities, per cent. Feeds PHAS, so a value that cannot be is answered with positive
/// infinity: an unbalance that is not known is no balance. Three zeros are balanced; whether current should flow is
/// for the caller to know.
/// </summary>
public static class Unbalance
{
    /// <summary>
    /// Largest deviation from the mean, 100 · max|x − x̄| / x̄ (NEMA MG 1, parts 14 and 20, for line voltages; in common
    /// use for currents). Cheap, and larger than the negative-sequence form only where one quantity stands out.
    /// </summary>
    /// <param name="first">First quantity, any unit, 0 or above.</param>
    /// <param name="second">Second quantity, the same unit.</param>
    /// <param name="third">Third quantity, the same unit.</param>
    /// <returns>Per cent, 0 to 200; positive infinity for a value that is negative or not a number.</returns>
    public static double MaxDeviationPercent(double first, double second, double third)
    {
        if (!AreMagnitudes(first, second, third))
        {
            return double.PositiveInfinity;
        }

        double mean = (first + second + third) / 3;
        double largest = Math.Max(first, Math.Max(second, third));
        double smallest = Math.Min(first, Math.Min(second, third));
        return mean > 0 ? 100 * Math.Max(largest - mean, mean - smallest) / mean : 0;
    }

    /// <summary>
    /// Negative sequence ÷ positive sequence from three magnitudes whose phasors add up to zero: line-to-line
    /// voltages, or line currents of a heater without neutral. With β = Σx⁴ / (Σx²)² it is
    /// √((1 − √(3 − 6β)) / (1 + √(3 − 6β))) (IEC 61000-4-30, 5.7.1; formula from memory). Three magnitudes that form no
    /// triangle, so that no phasors can add up to zero, give 100 %.
    /// </summary>
    /// <param name="first">First magnitude, any unit, 0 or above.</param>
    /// <param name="second">Second magnitude, the same unit.</param>
    /// <param name="third">Third magnitude, the same unit.</param>
    /// <returns>Per cent, 0 to 100; positive infinity for a value that is negative or not a number.</returns>
    public static double NegativeSequencePercent(double first, double second, double third)
    {
        if (!AreMagnitudes(first, second, third))
        {
            return double.PositiveInfinity;
        }

        // Shares of the largest keep the fourth powers in range whatever the unit.
        double largest = Math.Max(first, Math.Max(second, third));
        if (!(largest > 0))
        {
            return 0;
        }

        double a = Square(first / largest);
        double b = Square(second / largest);
        double c = Square(third / largest);
        double beta = (Square(a) + Square(b) + Square(c)) / Square(a + b + c);
        double root = Math.Sqrt(Math.Max(0, 3 - (6 * beta)));
        return 100 * Math.Sqrt(Math.Max(0, (1 - root) / (1 + root)));
    }

    private static double Square(double x) => x * x;

    private static bool AreMagnitudes(double first, double second, double third) =>
        first >= 0 && second >= 0 && third >= 0 && double.IsFinite(first + second + third);
}
