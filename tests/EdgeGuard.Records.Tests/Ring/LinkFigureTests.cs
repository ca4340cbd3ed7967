using EdgeGuard.Records.Ring;

namespace EdgeGuard.Records.Tests.Ring;

/// <summary>
/// The one list of the figures of a link: each has its words, and the manual says the same. EDGEGUARD_WRITE_GOLDEN=1 puts the
/// table in again; read the difference.
/// </summary>
public sealed class LinkFigureTests
{
    private const string Begin = "<!-- figures: made by LinkFigureTests -->\n";
    private const string End = "<!-- end of figures -->";

    [Fact]
    public void Every_figure_stands_in_its_place_with_words_of_its_own()
    {
        LinkFigure[] figures = Enum.GetValues<LinkFigure>();
        Assert.Equal(figures, LinkFigureTexts.All.Select(static t => t.Figure));
        Assert.Equal(Enum.GetNames<LinkFigure>(), LinkFigureTexts.All.Select(static t => t.Name));
        Assert.Equal(LinkFigureTexts.Count, figures.Length);
        Assert.Equal(LinkFigureTexts.Count, LinkFigureTexts.All.Select(static t => t.Title).Distinct().Count());
        Assert.All(LinkFigureTexts.All, static t => Assert.Equal(t.Kind == LinkFigureKind.Trouble, t.LookAt.Length > 0));
    }

    [Fact]
    public void The_manual_lists_every_figure()
    {
        string path = RepoFolder.File("docs", "reference", "modbus.md");
        string text = File.ReadAllText(path);
        int begin = text.IndexOf(Begin, StringComparison.Ordinal) + Begin.Length;
        int end = text.IndexOf(End, StringComparison.Ordinal);
        Assert.True(begin >= Begin.Length && end >= begin, "the marks of the table are missing in " + path);
        string expected = "| figure | counts | when it rises, look at |\n|---|---|---|\n"
            + string.Concat(LinkFigureTexts.All.Select(static t => $"| `{t.Name}` | {t.Title} | {(t.LookAt.Length > 0 ? t.LookAt : "–")} |\n"));
        if (Environment.GetEnvironmentVariable("EDGEGUARD_WRITE_GOLDEN") == "1")
        {
            File.WriteAllText(path, text[..begin] + expected + text[end..]);
        }

        Assert.Equal(expected, File.ReadAllText(path)[begin..].Split(End)[0]);
    }
}
