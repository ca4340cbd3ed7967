using System.Text;
using EdgeGuard.Reports.Charts;

namespace EdgeGuard.Reports.Html;

/// <summary>
/// Builds one self-contained HTML file: style and charts inside, nothing fetched from elsewhere, no script. It opens
/// years later on a machine without a network and prints as it looks. It is also well-formed XML, so that a
/// program can check it. All text given here is plain text and is escaped.
/// </summary>
public sealed class HtmlReport
{
    private readonly StringBuilder _body = new();
    private readonly string _title;

    /// <summary>Begins a report.</summary>
    /// <param name="title">Title of the page and first heading.</param>
    public HtmlReport(string title)
    {
        _title = title;
        Line($"<h1>{E(title)}</h1>");
    }

    /// <summary>A heading.</summary>
    /// <param name="text">Its text.</param>
    public HtmlReport Heading(string text) => Line($"<h2>{E(text)}</h2>");

    /// <summary>A paragraph.</summary>
    /// <param name="text">Its text.</param>
    public HtmlReport Paragraph(string text) => Line($"<p>{E(text)}</p>");

    /// <summary>A paragraph in small grey type: where figures come from, what they do not say.</summary>
    /// <param name="text">Its text.</param>
    public HtmlReport Note(string text) => Line($"""<p class="note">{E(text)}</p>""");

    /// <summary>The result of the whole report, set apart.</summary>
    /// <param name="verdict">The result.</param>
    /// <param name="text">The result in one sentence.</param>
    public HtmlReport Result(Verdict verdict, string text) =>
        Line($"""<p class="verdict {VerdictClass(verdict)}">{E(text)}</p>""");

    /// <summary>A table of figures against their limits.</summary>
    /// <param name="caption">Heading of the table.</param>
    /// <param name="figures">Its rows.</param>
    public HtmlReport KeyFigures(string caption, IReadOnlyList<KeyFigure> figures)
    {
        ArgumentNullException.ThrowIfNull(figures);
        Heading(caption);
        Line("""<div class="wide"><table><thead><tr><th>Figure</th><th class="num">Limit</th><th class="num">Actual</th><th>Verdict</th></tr></thead><tbody>""");
        foreach (KeyFigure f in figures)
        {
            Line($"""<tr><td>{E(f.Name)}</td><td class="num">{E(f.Limit)}</td><td class="num">{E(f.Actual)}</td><td class="word {VerdictClass(f.Verdict)}">{VerdictWord(f.Verdict)}</td></tr>""");
        }

        return Line("</tbody></table></div>");
    }

    /// <summary>A plain table.</summary>
    /// <param name="heads">Heads of the columns.</param>
    /// <param name="rows">Cells, row by row, as many as there are heads.</param>
    public HtmlReport Table(IReadOnlyList<string> heads, IReadOnlyList<IReadOnlyList<string>> rows)
    {
        ArgumentNullException.ThrowIfNull(heads);
        ArgumentNullException.ThrowIfNull(rows);
        Line($"""<div class="wide"><table><thead><tr>{string.Concat(heads.Select(h => $"<th>{E(h)}</th>"))}</tr></thead><tbody>""");
        foreach (IReadOnlyList<string> row in rows)
        {
            if (row.Count != heads.Count)
            {
                throw new ArgumentException($"A row has {row.Count} cells under {heads.Count} heads.", nameof(rows));
            }

            Line($"<tr>{string.Concat(row.Select(c => $"<td>{E(c)}</td>"))}</tr>");
        }

        return Line("</tbody></table></div>");
    }

    /// <summary>What happened, line by line with times.</summary>
    /// <param name="caption">Heading of the story.</param>
    /// <param name="lines">Its lines, in order of time.</param>
    public HtmlReport Story(string caption, IReadOnlyList<StoryLine> lines)
    {
        ArgumentNullException.ThrowIfNull(lines);
        Heading(caption);
        Line("""<ul class="story">""");
        foreach (StoryLine s in lines)
        {
            Line($"""<li class="{ChartTones.Class(s.Tone)}"><span>{E(s.Time)}</span><span>{E(s.Unit)}</span><span>{E(s.Text)}</span></li>""");
        }

        return Line("</ul>");
    }

    /// <summary>A chart; its bands and marks are listed below it, since narrow ones have no room for their name.</summary>
    /// <param name="caption">One sentence below the chart.</param>
    /// <param name="stack">The chart.</param>
    public HtmlReport Chart(string caption, ChartStack stack)
    {
        ArgumentNullException.ThrowIfNull(stack);
        Line("""<figure><div class="wide">""");
        _body.Append(SvgChart.Draw(stack));
        Line($"</div><figcaption>{E(caption)}");
        Bands(stack);
        Marks(stack);
        return Line("</figcaption></figure>");
    }

    /// <summary>A block of text as a terminal shows it, such as commands.</summary>
    /// <param name="text">Its text.</param>
    public HtmlReport Preformatted(string text) => Line($"""<div class="wide"><pre>{E(text)}</pre></div>""");

    /// <summary>The whole file.</summary>
    public string ToHtml() => $"""
        <!DOCTYPE html>
        <html xmlns="http://www.w3.org/1999/xhtml" lang="en">
        <head><meta charset="utf-8"/><meta name="viewport" content="width=device-width, initial-scale=1"/>
        <title>{E(_title)}</title>
        <style>
        {ReportStyle.Css}
        </style></head>
        <body><main>
        {_body}</main></body>
        </html>

        """;

    /// <summary>Writes the file as UTF-8, replacing an older one.</summary>
    /// <param name="path">Path of the file.</param>
    public void Save(string path) => File.WriteAllText(path, ToHtml(), new UTF8Encoding(false));

    private static string VerdictWord(Verdict verdict) => verdict switch
    {
        Verdict.Kept => "kept",
        Verdict.Broken => "BROKEN",
        Verdict.Information => "–",
        _ => "not judged",
    };

    private static string VerdictClass(Verdict verdict) => verdict switch
    {
        Verdict.Kept => "good",
        Verdict.Broken => "bad",
        Verdict.Information => "info",
        _ => "open",
    };

    private void Bands(ChartStack stack)
    {
        if (stack.Bands.Count > 0)
        {
            Line($"""<p class="note">{E(string.Join(" · ", stack.Bands.Select(b => $"{b.Name} from {SvgChart.TimeText(stack, b.FromT)}")))}</p>""");
        }
    }

    private void Marks(ChartStack stack)
    {
        if (stack.Marks.Count > 0)
        {
            Line("<ol>");
            foreach (ChartMark mark in stack.Marks)
            {
                Line($"<li>{E(mark.Text)}</li>");
            }

            Line("</ol>");
        }
    }

    private static string E(string text) => MarkupText.Escape(text);

    private HtmlReport Line(string markup)
    {
        _body.Append(markup).Append('\n');
        return this;
    }
}
