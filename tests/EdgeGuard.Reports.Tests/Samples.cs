using System.Xml;
using EdgeGuard.Reports.Charts;
using EdgeGuard.Reports.Html;

namespace EdgeGuard.Reports.Tests;

internal static class Samples
{
    public static readonly XmlReaderSettings Strict = new() { DtdProcessing = DtdProcessing.Ignore, XmlResolver = null };

    /// <summary>Reads the report as XML to the end; throws where it is not well-formed.</summary>
    public static XmlDocument Parse(string html)
    {
        using var reader = XmlReader.Create(new StringReader(html), Strict);
        var document = new XmlDocument { XmlResolver = null };
        document.Load(reader);
        return document;
    }

    /// <summary>A report with every kind of part, made of invented figures and one text in every place for text.</summary>
    public static HtmlReport Report(string text)
    {
        return new HtmlReport(text)
            .Result(Verdict.Kept, text)
            .Heading(text)
            .Paragraph(text)
            .Note(text)
            .Preformatted(text)
            .KeyFigures(text, [new KeyFigure(text, text, text, Verdict.Kept), new KeyFigure(text, text, text, Verdict.NotJudged)])
            .Story(text, [new StoryLine(text, text, text, ChartTone.Fault)])
            .Chart(text, Stack(text));
    }

    public static ChartStack Stack(string text) => new(
        text,
        [new ChartPanel(text, text, [new ChartSeries(text, [(0, 20), (60, 650), (120, double.NaN), (180, 640)])], [new ChartLimit(text, 850, true)])])
    {
        Bands = [new ChartBand(text, 0, 60, ChartTone.Hot), new ChartBand(text, 60, 180, ChartTone.Fault)],
        Marks = [new ChartMark(60, text, ChartTone.Fault)],
        TimeLabel = _ => text,
    };
}
