namespace EdgeGuard.Reports.Charts;

/// <summary>Places times and values of one panel in the picture.</summary>
internal readonly record struct PanelScale(
    double Left, double Width, double Top, double Height, double FromT, double ToT, double Min, double Max)
{
    public double Bottom => Top + Height;

    public double Right => Left + Width;

    public double X(double t) => Left + (Math.Clamp((t - FromT) / (ToT - FromT), 0, 1) * Width);

    public double Y(double v) => Top + ((1 - Math.Clamp((v - Min) / (Max - Min), 0, 1)) * Height);

    /// <summary>The scale of a panel: its data and limits with a little air above, ends on round numbers.</summary>
    public static PanelScale For(ChartPanel panel, double left, double width, double top, double fromT, double toT)
    {
        double low = double.PositiveInfinity;
        double high = double.NegativeInfinity;
        foreach (double v in Values(panel))
        {
            low = Math.Min(low, v);
            high = Math.Max(high, v);
        }

        low = panel.Min is { } min ? Math.Min(min, low) : low;
        high = panel.Max is { } max ? Math.Max(max, high) : high;
        if (!double.IsFinite(low) || !double.IsFinite(high))
        {
            (low, high) = (0, 1);
        }

        double span = high > low ? high - low : Math.Max(1, Math.Abs(high));
        double step = AxisTicks.ValueStep(span, 6);
        double roundLow = Math.Floor((low / step) + 1e-9) * step;
        double roundHigh = Math.Ceiling((high + (0.02 * span)) / step) * step;
        return new PanelScale(left, width, top, panel.Height, fromT, toT, roundLow, Math.Max(roundHigh, roundLow + step));
    }

    private static IEnumerable<double> Values(ChartPanel panel)
    {
        foreach (ChartLimit limit in panel.Limits)
        {
            if (double.IsFinite(limit.Value))
            {
                yield return limit.Value;
            }
        }

        foreach (ChartSeries series in panel.Series)
        {
            foreach ((_, double v) in series.Points)
            {
                if (double.IsFinite(v))
                {
                    yield return v;
                }
            }
        }
    }
}
