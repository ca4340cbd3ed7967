using EdgeGuard.Reports.Html;

namespace EdgeGuard.Demo;

/// <summary>All judged figures of a demo.</summary>
internal sealed record DemoFindings(IReadOnlyList<(string Caption, IReadOnlyList<KeyFigure> Figures)> Tables)
{
    /// <summary>True when there are figures and none is broken or could not be judged.</summary>
    public bool AllKept => Tables.Count > 0 && Tables.All(t => t.Figures.All(f => f.Verdict is Verdict.Kept or Verdict.Information));

    /// <summary>The tables as plain text.</summary>
    public string ToText()
    {
        var lines = new List<string>();
        foreach ((string caption, IReadOnlyList<KeyFigure> figures) in Tables)
        {
            lines.Add(caption);
            lines.AddRange(figures.Select(f => $"  {Word(f.Verdict),-7} {f.Name}: {f.Actual}  ({f.Limit})"));
        }

        return string.Join(Environment.NewLine, lines);
    }

    private static string Word(Verdict verdict) => verdict switch
    {
        Verdict.Kept => "kept",
        Verdict.Broken => "BROKEN",
        Verdict.Information => "info",
        _ => "NOT JUDGED",
    };
}
