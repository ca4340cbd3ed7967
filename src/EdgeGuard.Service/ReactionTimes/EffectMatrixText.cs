using System.Text;

namespace EdgeGuard.Service.ReactionTimes;

/// <summary>The cause-and-effect matrix as text for a terminal and as CSV for a spreadsheet.</summary>
public static class EffectMatrixText
{
    /// <summary>Heads of the columns.</summary>
    public static IReadOnlyList<string> Heads { get; } =
        ["unit", "function", "cause", "delay", "reaction", .. EffectMatrix.Paths, "bypass", "forcible signals", "shares with control", "reaction time"];

    /// <summary>Cells of a row, in the order of <see cref="Heads"/>.</summary>
    /// <param name="row">The row.</param>
    public static IReadOnlyList<string> Cells(EffectRow row)
    {
        ArgumentNullException.ThrowIfNull(row);
        return [row.Unit, row.Function.ToString().ToUpperInvariant(), row.Cause, row.Delay, row.Reaction, .. row.Effects, row.Bypass, row.Force, row.SharesWithControl, row.ReactionTime];
    }

    /// <summary>A table with aligned columns; effects of a removal, the same in each row, are told by their paths.</summary>
    /// <param name="rows">The rows.</param>
    public static string Text(IReadOnlyList<EffectRow> rows)
    {
        ArgumentNullException.ThrowIfNull(rows);
        IReadOnlyList<string>[] table = [Heads, .. rows.Select(Cells)];
        int[] widths = [.. Enumerable.Range(0, Heads.Count).Select(c => table.Max(r => r[c].Length))];
        var text = new StringBuilder();
        foreach (IReadOnlyList<string> row in table)
        {
            string line = string.Join("  ", row.Select((cell, c) => cell.PadRight(widths[c])));
            text.Append(line.TrimEnd()).Append('\n');
        }

        return text.Append('\n').Append(ReactionBudget.Caveat).Append('\n').ToString();
    }

    /// <summary>RFC 4180 with "\n": a spreadsheet cell that would be taken for a formula is kept text by an apostrophe.</summary>
    /// <param name="rows">The rows.</param>
    public static string Csv(IReadOnlyList<EffectRow> rows)
    {
        ArgumentNullException.ThrowIfNull(rows);
        var text = new StringBuilder();
        text.AppendJoin(',', Heads.Select(Cell)).Append('\n');
        foreach (EffectRow row in rows)
        {
            text.AppendJoin(',', Cells(row).Select(Cell)).Append('\n');
        }

        return text.Append(Cell(ReactionBudget.Caveat)).Append('\n').ToString();
    }

    private static string Cell(string text)
    {
        string safe = text.Length > 0 && "=+-@".Contains(text[0], StringComparison.Ordinal) ? "'" + text : text;
        return safe.AsSpan().IndexOfAny(",\"\n") < 0 ? safe : $"\"{safe.Replace("\"", "\"\"", StringComparison.Ordinal)}\"";
    }
}
