using System.Globalization;
using System.Text;
using EdgeGuard.Reports.Html;

namespace EdgeGuard.Reports.Charts;

/// <summary>
/// Draws a <see cref="ChartStack"/> as one SVG picture. Text stays text, so it can be searched and read aloud;
/// colours come from the style sheet of the page, so the picture follows light, dark and print.
/// </summary>
public static class SvgChart
{
    private const double Width = 1000;
    private const double Left = 62;
    private const double PlotWidth = 800;
    private const double LaneTop = 6;
    private const double LaneHeight = 18;
    private const double TitleHeight = 30;
    private const double AxisHeight = 34;
    private const double CharWidth = 6.4; // mean width of a character of 12 units
    private const int Columns = (int)PlotWidth;

    /// <summary>Draws the stack.</summary>
    /// <param name="stack">What to draw.</param>
    /// <returns>One svg element, well-formed.</returns>
    public static string Draw(ChartStack stack)
    {
        ArgumentNullException.ThrowIfNull(stack);
        (double fromT, double toT) = TimeSpanOf(stack);
        double top = LaneTop + (stack.Bands.Count + stack.Marks.Count > 0 ? LaneHeight : 0);
        var scales = new List<PanelScale>();
        foreach (ChartPanel panel in stack.Panels)
        {
            scales.Add(PanelScale.For(panel, Left, PlotWidth, top + TitleHeight, fromT, toT));
            top = scales[^1].Bottom;
        }

        var svg = new StringBuilder();
        Open(svg, stack.Title, top + AxisHeight);
        foreach (PanelScale scale in scales)
        {
            Bands(svg, stack.Bands, scale);
        }

        Lane(svg, stack, new PanelScale(Left, PlotWidth, LaneTop, LaneHeight, fromT, toT, 0, 1));
        for (int i = 0; i < scales.Count; i++)
        {
            Panel(svg, stack.Panels[i], scales[i]);
        }

        Marks(svg, stack.Marks, scales);
        TimeAxis(svg, stack, scales);
        return svg.Append("</svg>\n").ToString();
    }

    /// <summary>A time as the axis of the stack writes it.</summary>
    internal static string TimeText(ChartStack stack, double t) =>
        stack.TimeLabel is { } label ? label(t) : MinutesAndSeconds(t);

    private static (double FromT, double ToT) TimeSpanOf(ChartStack stack)
    {
        double from = double.PositiveInfinity;
        double to = double.NegativeInfinity;
        foreach (ChartPanel panel in stack.Panels)
        {
            foreach (ChartSeries series in panel.Series)
            {
                if (series.Points.Count > 0)
                {
                    from = Math.Min(from, series.Points[0].T);
                    to = Math.Max(to, series.Points[^1].T);
                }
            }
        }

        return double.IsFinite(from) && to > from ? (from, to) : (0, 1);
    }

    private static void Open(StringBuilder svg, string title, double height) =>
        Add(svg, $"""<svg xmlns="http://www.w3.org/2000/svg" class="chart" role="img" viewBox="0 0 {N(Width)} {N(height)}"><title>{E(title)}</title>""");

    private static void Bands(StringBuilder svg, IReadOnlyList<ChartBand> bands, PanelScale s)
    {
        foreach (ChartBand band in bands)
        {
            double x = s.X(band.FromT);
            Add(svg, $"""<rect class="band {ChartTones.Class(band.Tone)}" x="{N(x)}" y="{N(s.Top)}" width="{N(s.X(band.ToT) - x)}" height="{N(s.Height)}"/>""");
        }
    }

    private static void Lane(StringBuilder svg, ChartStack stack, PanelScale s)
    {
        foreach (ChartBand band in stack.Bands)
        {
            double x = s.X(band.FromT);
            double width = s.X(band.ToT) - x;
            Add(svg, $"""<g><title>{E(band.Name)}</title><rect class="lane {ChartTones.Class(band.Tone)}" x="{N(x)}" y="{N(s.Top)}" width="{N(width)}" height="{N(s.Height - 2)}"/>""");
            if (width >= band.Name.Length * CharWidth)
            {
                Add(svg, $"""<text class="lane-name" x="{N(x + 3)}" y="{N(s.Top + 12)}">{E(band.Name)}</text>""");
            }

            Add(svg, "</g>");
        }
    }

    /// <summary>Lines through all panels, numbers in the first one only; close numbers step down.</summary>
    private static void Marks(StringBuilder svg, IReadOnlyList<ChartMark> marks, List<PanelScale> scales)
    {
        double previousX = double.NegativeInfinity;
        double row = 0;
        for (int i = 0; i < marks.Count && scales.Count > 0; i++)
        {
            double x = scales[0].X(marks[i].T);
            row = Math.Abs(x - previousX) < 16 ? row + 1 : 0;
            previousX = x;
            Add(svg, $"""<g class="mark {ChartTones.Class(marks[i].Tone)}"><title>{E(marks[i].Text)}</title>""");
            foreach (PanelScale s in scales)
            {
                Add(svg, $"""<line x1="{N(x)}" x2="{N(x)}" y1="{N(s.Top)}" y2="{N(s.Bottom)}"/>""");
            }

            Add(svg, $"""<text x="{N(x + 3)}" y="{N(scales[0].Top + 12 + (13 * row))}">{N(i + 1)}</text></g>""");
        }
    }

    private static void Panel(StringBuilder svg, ChartPanel panel, PanelScale s)
    {
        ValueAxis(svg, panel, s);
        Legend(svg, panel, s);
        for (int i = 0; i < panel.Series.Count; i++)
        {
            string path = Path(panel.Series[i], s);
            if (path.Length > 0)
            {
                Add(svg, $"""<path class="line {SeriesClass(i)}" d="{path}"/>""");
            }
        }

        Limits(svg, panel, s);
    }

    private static void ValueAxis(StringBuilder svg, ChartPanel panel, PanelScale s)
    {
        foreach (double v in AxisTicks.Within(s.Min, s.Max, AxisTicks.ValueStep(s.Max - s.Min, panel.Height / 30)))
        {
            string y = N(s.Y(v));
            Add(svg, $"""<line class="grid" x1="{N(s.Left)}" x2="{N(s.Right)}" y1="{y}" y2="{y}"/><text class="tick" text-anchor="end" x="{N(s.Left - 6)}" y="{N(s.Y(v) + 4)}">{MarkupText.Number(Math.Round(v, 9))}</text>""");
        }

        Add(svg, $"""<text class="panel-title" x="{N(s.Left)}" y="{N(s.Top - 8)}">{E(panel.Title)}, {E(panel.Unit)}</text>""");
    }

    /// <summary>From the right end of the title row to the left, so that titles and legend share one row.</summary>
    private static void Legend(StringBuilder svg, ChartPanel panel, PanelScale s)
    {
        double x = s.Right;
        for (int i = panel.Series.Count - 1; i >= 0; i--)
        {
            string name = panel.Series[i].Name;
            x -= (name.Length * CharWidth) + 44;
            Add(svg, $"""<line class="line {SeriesClass(i)}" x1="{N(x + 8)}" x2="{N(x + 34)}" y1="{N(s.Top - 12)}" y2="{N(s.Top - 12)}"/><text class="legend" x="{N(x + 39)}" y="{N(s.Top - 8)}">{E(name)}</text>""");
        }
    }

    private static void Limits(StringBuilder svg, ChartPanel panel, PanelScale s)
    {
        var limits = panel.Limits.Where(l => double.IsFinite(l.Value)).OrderByDescending(l => l.Value).ToList();
        double labelBelow = double.NegativeInfinity;
        foreach (ChartLimit limit in limits)
        {
            string y = N(s.Y(limit.Value));
            labelBelow = Math.Max(s.Y(limit.Value) + 4, labelBelow + 13); // labels never overlap
            string kind = limit.Trip ? "limit trip" : "limit";
            Add(svg, $"""<line class="{kind}" x1="{N(s.Left)}" x2="{N(s.Right)}" y1="{y}" y2="{y}"/><text class="{kind}" x="{N(s.Right + 5)}" y="{N(labelBelow)}">{E(limit.Name)} {MarkupText.Number(limit.Value)}</text>""");
        }
    }

    private static string Path(ChartSeries series, PanelScale s)
    {
        var path = new StringBuilder();
        bool pen = false;
        foreach ((double t, double v) in MinMaxDecimation.Thin(series.Points, s.FromT, s.ToT, Columns))
        {
            if (!double.IsFinite(v))
            {
                pen = false;
                continue;
            }

            path.Append(pen ? 'L' : 'M').Append(N(s.X(t))).Append(' ').Append(N(s.Y(v)));
            pen = true;
        }

        return path.ToString();
    }

    private static void TimeAxis(StringBuilder svg, ChartStack stack, List<PanelScale> scales)
    {
        if (scales.Count == 0)
        {
            return;
        }

        PanelScale low = scales[^1];
        foreach (double t in AxisTicks.Within(low.FromT, low.ToT, AxisTicks.TimeStep(low.ToT - low.FromT, 10)))
        {
            string x = N(low.X(t));
            Add(svg, $"""<line class="tick-mark" x1="{x}" x2="{x}" y1="{N(low.Bottom)}" y2="{N(low.Bottom + 5)}"/><text class="tick" text-anchor="middle" x="{x}" y="{N(low.Bottom + 18)}">{E(TimeText(stack, t))}</text>""");
        }

        foreach (PanelScale s in scales)
        {
            Add(svg, $"""<rect class="frame" x="{N(s.Left)}" y="{N(s.Top)}" width="{N(s.Width)}" height="{N(s.Height)}"/>""");
        }
    }

    private static string MinutesAndSeconds(double t)
    {
        var whole = (long)Math.Round(t);
        string sign = whole < 0 ? "-" : "";
        whole = Math.Abs(whole);
        return string.Create(CultureInfo.InvariantCulture, $"{sign}{whole / 60}:{whole % 60:00}");
    }

    private static string SeriesClass(int index) => string.Create(CultureInfo.InvariantCulture, $"s{index % 6}");

    private static void Add(StringBuilder svg, string element) => svg.Append(element).Append('\n');

    private static string N(double value) => MarkupText.Coordinate(value);

    private static string E(string text) => MarkupText.Escape(text);
}
