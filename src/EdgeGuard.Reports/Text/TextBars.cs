namespace EdgeGuard.Reports.Text;

/// <summary>Bars and small lines of characters for a terminal.</summary>
public static class TextBars
{
    private const string Levels = "▁▂▃▄▅▆▇█";

    /// <summary>A bar of fixed width, filled in proportion.</summary>
    /// <param name="value">Value; not finite or below 0 gives an empty bar, above full a full one.</param>
    /// <param name="full">Value of a full bar, above 0.</param>
    /// <param name="width">Characters, at least 1.</param>
    /// <param name="unicode">False for a terminal that knows ASCII only.</param>
    public static string Bar(double value, double full, int width, bool unicode = true)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(width, 1);
        double part = value / full;
        int filled = part > 0 && double.IsFinite(part) ? (int)Math.Round(Math.Min(part, 1) * width) : 0;
        return new string(unicode ? '█' : '#', filled) + new string(unicode ? '░' : '.', width - filled);
    }

    /// <summary>
    /// A line of one character a column, each the highest value of its stretch, so that a peak is never lost.
    /// </summary>
    /// <param name="values">Values in order of time; not finite ones leave a blank.</param>
    /// <param name="full">Value of the highest character, above 0.</param>
    /// <param name="width">Characters, at least 1.</param>
    public static string Line(IReadOnlyList<double> values, double full, int width)
    {
        ArgumentNullException.ThrowIfNull(values);
        ArgumentOutOfRangeException.ThrowIfLessThan(width, 1);
        var line = new char[width];
        for (int x = 0; x < width; x++)
        {
            int from = (int)((long)x * values.Count / width);
            int to = Math.Max(from + 1, (int)((long)(x + 1) * values.Count / width));
            line[x] = Level(Peak(values, from, Math.Min(to, values.Count)), full);
        }

        return new string(line);
    }

    private static double Peak(IReadOnlyList<double> values, int from, int to)
    {
        double peak = double.NaN;
        for (int i = from; i < to; i++)
        {
            peak = double.IsFinite(values[i]) && !(values[i] <= peak) ? values[i] : peak;
        }

        return peak;
    }

    private static char Level(double value, double full)
    {
        double part = value / full;
        return double.IsFinite(part)
            ? Levels[(int)Math.Clamp(Math.Round(part * (Levels.Length - 1)), 0, Levels.Length - 1)]
            : ' ';
    }
}
