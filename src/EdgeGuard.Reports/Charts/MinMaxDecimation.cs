namespace EdgeGuard.Reports.Charts;

/// <summary>
/// Thins a series to what a picture can show. Of the points of one pixel column the first, the lowest, the highest
/// and the last stay, in order of time: a spike of one sample is as tall in the picture as it was, which a mean or
/// every n-th point would hide. A report that hides the peak it is there to judge is worth nothing.
/// </summary>
public static class MinMaxDecimation
{
    /// <summary>Thins a series.</summary>
    /// <param name="points">Points in order of time; a value that is not finite is kept once, as a gap.</param>
    /// <param name="fromT">Left edge, s.</param>
    /// <param name="toT">Right edge, s.</param>
    /// <param name="columns">Number of pixel columns, at least 1.</param>
    /// <returns>At most five points a column: first, lowest, highest, last and a gap.</returns>
    public static List<(double T, double V)> Thin(
        IReadOnlyList<(double T, double V)> points, double fromT, double toT, int columns)
    {
        ArgumentNullException.ThrowIfNull(points);
        ArgumentOutOfRangeException.ThrowIfLessThan(columns, 1);
        var kept = new List<(double T, double V)>();
        int i = 0;
        while (i < points.Count)
        {
            int end = i + 1;
            int column = Column(points[i].T, fromT, toT, columns);
            bool gap = !double.IsFinite(points[i].V);
            while (end < points.Count && gap != double.IsFinite(points[end].V)
                && Column(points[end].T, fromT, toT, columns) == column)
            {
                end++;
            }

            KeepExtremes(points, i, end, gap, kept);
            i = end;
        }

        return kept;
    }

    private static int Column(double t, double fromT, double toT, int columns)
    {
        double place = toT > fromT ? (t - fromT) / (toT - fromT) * columns : 0;
        return place >= 0 ? (int)Math.Min(place, columns - 1) : 0;
    }

    private static void KeepExtremes(
        IReadOnlyList<(double T, double V)> points, int start, int end, bool gap, List<(double T, double V)> kept)
    {
        int low = start;
        int high = start;
        for (int i = start; i < end && !gap; i++)
        {
            low = points[i].V < points[low].V ? i : low;
            high = points[i].V > points[high].V ? i : high;
        }

        int last = gap ? start : end - 1;
        int previous = -1;
        foreach (int i in (ReadOnlySpan<int>)[start, Math.Min(low, high), Math.Max(low, high), last])
        {
            if (i > previous)
            {
                kept.Add(points[i]);
                previous = i;
            }
        }
    }
}
