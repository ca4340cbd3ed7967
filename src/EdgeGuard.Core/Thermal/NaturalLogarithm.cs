namespace EdgeGuard.Core.Thermal;

/// <summary>
/// Natural logarithm from + − × ÷ √ alone, so that every machine gives the same bits. For figures that are shown (time
/// left), not for anything that decides in a scan.
/// </summary>
internal static class NaturalLogarithm
{
    // With |z| ≤ 1/3 the term z^31/31 is below 1e-16.
    private const int HighestPower = 31;

    /// <summary>ln x; not a number for 0, negative values and what is no number; infinite for infinity.</summary>
    public static double Of(double x)
    {
        if (!(x > 0) || double.IsPositiveInfinity(x))
        {
            return x > 0 ? x : double.NaN;
        }

        // ln x = 2 ln √x until the series converges fast.
        double factor = 2;
        double root = x;
        while (root is > 2 or < 0.5)
        {
            root = Math.Sqrt(root);
            factor *= 2;
        }

        // ln x = 2 artanh((x − 1)/(x + 1)).
        double z = (root - 1) / (root + 1);
        double sum = 0;
        double power = z;
        for (int n = 1; n <= HighestPower; n += 2)
        {
            sum += power / n;
            power *= z * z;
        }

        return factor * sum;
    }
}
