using System.Globalization;
using System.Xml;
using EdgeGuard.Reports.Charts;

namespace EdgeGuard.Reports.Tests;

public sealed class SvgChartTests
{
    [Fact]
    public void The_peak_of_a_long_series_reaches_its_own_height_in_the_picture()
    {
        (double T, double V)[] points = Enumerable.Range(0, 50_000).Select(i => ((double)i, i == 31_337 ? 1000.0 : 100.0)).ToArray();
        var panel = new ChartPanel("Temperature", "°C", [new ChartSeries("element", points)], []) { Max = 1200, Height = 240 };
        double[] heights = PathHeights(SvgChart.Draw(new ChartStack("t", [panel])));
        double top = FrameTop(SvgChart.Draw(new ChartStack("t", [panel])));
        // Axis 0 to 1400 (round steps above 1200 + 2 %): 1000 stands at 1000/1400 of 240 above the bottom.
        Assert.Equal(top + (240 * (1 - (1000.0 / 1400))), heights.Min(), 0.1);
        Assert.Equal(top + (240 * (1 - (100.0 / 1400))), heights.Max(), 0.1);
    }

    [Fact]
    public void A_gap_breaks_the_line_and_is_not_bridged()
    {
        ChartSeries series = new("s", [(0, 1), (1, 2), (2, double.NaN), (3, 2), (4, 1)]);
        string path = Path(SvgChart.Draw(new ChartStack("t", [new ChartPanel("p", "u", [series], [])])));
        Assert.Equal(2, path.Count(c => c == 'M'));
        Assert.Equal(2, path.Count(c => c == 'L'));
    }

    [Fact]
    public void A_limit_above_all_data_is_inside_the_picture_with_its_value()
    {
        var panel = new ChartPanel("p", "°C", [new ChartSeries("s", [(0, 20), (10, 30)])], [new ChartLimit("trip", 850, true), new ChartLimit("none", double.PositiveInfinity, false)]);
        XmlDocument svg = Samples.Parse(SvgChart.Draw(new ChartStack("t", [panel])));
        XmlNodeList labels = svg.SelectNodes("//*[local-name()='text'][contains(@class,'limit')]")!;
        Assert.Equal(1, labels.Count);
        Assert.Equal("trip 850", labels[0]!.InnerText);
        double y = Number(svg.SelectSingleNode("//*[local-name()='line'][contains(@class,'trip')]")!, "y1");
        double top = Number(svg.SelectSingleNode("//*[local-name()='rect'][@class='frame']")!, "y");
        Assert.InRange(y, top, top + 190);
    }

    [Fact]
    public void Labels_of_limits_close_together_do_not_overlap()
    {
        ChartLimit[] limits = [new("alarm", 848, false), new("trip", 850, true), new("guide", 847, false)];
        XmlDocument svg = Samples.Parse(SvgChart.Draw(new ChartStack("t", [new ChartPanel("p", "°C", [new ChartSeries("s", [(0, 20), (10, 30)])], limits)])));
        double[] y = svg.SelectNodes("//*[local-name()='text'][contains(@class,'limit')]")!.Cast<XmlNode>().Select(n => Number(n, "y")).ToArray();
        Assert.Equal(3, y.Length);
        Assert.True(y[1] - y[0] >= 12 && y[2] - y[1] >= 12);
    }

    [Fact]
    public void Three_panels_stand_below_each_other_without_overlap()
    {
        ChartPanel panel = new("p", "u", [new ChartSeries("s", [(0, 1), (10, 3)])], []);
        XmlDocument svg = Samples.Parse(SvgChart.Draw(new ChartStack("t", [panel, panel, panel])));
        XmlNode[] frames = svg.SelectNodes("//*[local-name()='rect'][@class='frame']")!.Cast<XmlNode>().ToArray();
        Assert.Equal(3, frames.Length);
        Assert.True(Number(frames[1], "y") >= Number(frames[0], "y") + Number(frames[0], "height"));
        Assert.True(Number(frames[2], "y") >= Number(frames[1], "y") + Number(frames[1], "height"));
    }

    [Fact]
    public void Numbers_of_marks_close_together_do_not_overlap_and_zero_has_no_sign()
    {
        ChartPanel panel = new("p", "u", [new ChartSeries("s", [(0, 0), (1000, 3)])], []);
        var stack = new ChartStack("t", [panel, panel]) { Marks = [new ChartMark(500, "a", ChartTone.Neutral), new ChartMark(501, "b", ChartTone.Fault)] };
        string svg = SvgChart.Draw(stack);
        XmlNode[] numbers = Samples.Parse(svg).SelectNodes("//*[local-name()='g'][contains(@class,'mark')]/*[local-name()='text']")!.Cast<XmlNode>().ToArray();
        Assert.Equal(["1", "2"], numbers.Select(n => n.InnerText));
        Assert.True(Number(numbers[1], "y") - Number(numbers[0], "y") >= 12);
        Assert.DoesNotContain(">-0<", svg, StringComparison.Ordinal);
        Assert.Contains(">0<", svg, StringComparison.Ordinal);
    }

    public static TheoryData<string, (double T, double V)[]> OddSeries() => new()
    {
        { "empty", [] },
        { "one point", [(5, 5)] },
        { "constant", [(0, 7), (10, 7)] },
        { "all unknown", [(0, double.NaN), (10, double.NaN)] },
        { "huge", [(0, -1e300), (1e9, 1e300)] },
        { "tiny", [(0, 1e-12), (1e-3, 2e-12)] },
    };

    [Theory]
    [MemberData(nameof(OddSeries))]
    public void Odd_data_gives_a_well_formed_picture_without_NaN(string what, (double T, double V)[] points)
    {
        Assert.NotEmpty(what);
        string svg = SvgChart.Draw(new ChartStack("t", [new ChartPanel("p", "u", [new ChartSeries("s", points)], []) { Min = null }]));
        Assert.NotNull(Samples.Parse(svg).DocumentElement);
        Assert.DoesNotContain("NaN", svg, StringComparison.Ordinal);
        Assert.DoesNotContain("Infinity", svg, StringComparison.Ordinal);
        Assert.InRange(svg.Length, 200, 100_000);
    }

    [Fact]
    public void Time_is_written_in_minutes_and_seconds_unless_told_otherwise()
    {
        ChartPanel panel = new("p", "u", [new ChartSeries("s", [(0, 1), (600, 3)])], []);
        string svg = SvgChart.Draw(new ChartStack("t", [panel]));
        Assert.Contains(">0:00<", svg, StringComparison.Ordinal);
        Assert.Contains(">10:00<", svg, StringComparison.Ordinal);
        string other = SvgChart.Draw(new ChartStack("t", [panel]) { TimeLabel = t => t.ToString("0 's'", CultureInfo.InvariantCulture) });
        Assert.Contains(">600 s<", other, StringComparison.Ordinal);
    }

    private static string Path(string svg) => Samples.Parse(svg).SelectSingleNode("//*[local-name()='path']")!.Attributes!["d"]!.Value;

    private static double[] PathHeights(string svg) => Path(svg).Split('M', 'L').Where(p => p.Length > 0)
        .Select(p => double.Parse(p.Split(' ')[1], CultureInfo.InvariantCulture)).ToArray();

    private static double FrameTop(string svg) => Number(Samples.Parse(svg).SelectSingleNode("//*[local-name()='rect'][@class='frame']")!, "y");

    private static double Number(XmlNode node, string attribute) => double.Parse(node.Attributes![attribute]!.Value, CultureInfo.InvariantCulture);
}
