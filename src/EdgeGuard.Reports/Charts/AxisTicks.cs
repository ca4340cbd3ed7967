namespace EdgeGuard.Reports.Charts;

/// <summary>Round numbers for an axis.</summary>
internal static class AxisTicks
{
    private static readonly double[] TimeSteps =
        [1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 10_800, 21_600, 43_200, 86_400];

    /// <summary>Step of 1, 2 or 5 times a power of ten that gives about so many ticks.</summary>
    public static double ValueStep(double span, int about)
    {
        double rough = span / about;
        double power = Math.Pow(10, Math.Floor(Math.Log10(rough)));
        double lead = rough / power;
        return power * (lead <= 1 ? 1 : lead <= 2 ? 2 : lead <= 5 ? 5 : 10);
    }

    /// <summary>Step of seconds, minutes, hours or whole days that gives at most so many ticks.</summary>
    public static double TimeStep(double span, int atMost)
    {
        foreach (double step in TimeSteps)
        {
            if (span / step <= atMost)
            {
                return step;
            }
        }

        return 86_400 * Math.Ceiling(span / (86_400.0 * atMost));
    }

    /// <summary>Multiples of the step within the axis.</summary>
    public static IEnumerable<double> Within(double min, double max, double step)
    {
        double first = Math.Ceiling((min / step) - 1e-9);
        for (double n = first; n * step <= max + (step * 1e-9); n++)
        {
            yield return (n * step) + 0.0; // the sum turns a negative zero into a plain one
        }
    }
}
