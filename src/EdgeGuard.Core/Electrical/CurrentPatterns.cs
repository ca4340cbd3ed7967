namespace EdgeGuard.Core.Electrical;

/// <summary>
/// Names the fault that three line currents show. Ratios only, so the firing of the controller and the voltage drop
/// out; what must be given are currents over whole firing cycles, and enough of them to measure.
/// </summary>
public static class CurrentPatterns
{
    /// <summary>A line with less than this share of the largest current is dead (leakage of snubbers stays well below).</summary>
    public const double DeadShare = 0.1;

    /// <summary>Two currents within this share of each other are alike: meters and ageing legs differ by less.</summary>
    public const double AlikeShare = 0.15;

    private static readonly double RootThree = Math.Sqrt(3);

    /// <summary>Names what three currents show.</summary>
    /// <param name="connection">Star or delta: an open leg shows in delta only as such.</param>
    /// <param name="first">Current of line 1, A, RMS over whole firing cycles.</param>
    /// <param name="second">Current of line 2, A.</param>
    /// <param name="third">Current of line 3, A.</param>
    /// <param name="noiseAmpere">Currents up to this, A, count as none.</param>
    public static CurrentPattern Recognise(
        HeaterConnection connection, double first, double second, double third, double noiseAmpere)
    {
        double largest = Math.Max(first, Math.Max(second, third));
        if (!(first >= 0 && second >= 0 && third >= 0) || !double.IsFinite(largest))
        {
            return CurrentPattern.Unclear;
        }

        if (!(largest > noiseAmpere))
        {
            return CurrentPattern.NoCurrent;
        }

        double a = first / largest;
        double b = second / largest;
        double c = third / largest;
        CurrentPattern dead = DeadLine(a, b, c);
        return dead == CurrentPattern.Unclear ? EvenOrOpenLeg(connection, a, b, c) : dead;
    }

    private static CurrentPattern DeadLine(double a, double b, double c)
    {
        if (a < DeadShare && Alike(b, c))
        {
            return CurrentPattern.FirstLineDead;
        }

        if (b < DeadShare && Alike(c, a))
        {
            return CurrentPattern.SecondLineDead;
        }

        return c < DeadShare && Alike(a, b) ? CurrentPattern.ThirdLineDead : CurrentPattern.Unclear;
    }

    private static CurrentPattern EvenOrOpenLeg(HeaterConnection connection, double a, double b, double c)
    {
        if (Alike(a, b) && Alike(b, c) && Alike(c, a))
        {
            return CurrentPattern.Even;
        }

        if (connection != HeaterConnection.Delta)
        {
            return CurrentPattern.Unclear;
        }

        if (IsOpen(c, a, b))
        {
            return CurrentPattern.Leg12Open;
        }

        if (IsOpen(a, b, c))
        {
            return CurrentPattern.Leg23Open;
        }

        return IsOpen(b, c, a) ? CurrentPattern.Leg31Open : CurrentPattern.Unclear;
    }

    private static bool IsOpen(double opposite, double near, double other) =>
        Alike(near, other) && Alike(opposite, RootThree * near) && Alike(opposite, RootThree * other);

    private static bool Alike(double a, double b) => Math.Abs(a - b) <= AlikeShare * Math.Max(a, b);
}
