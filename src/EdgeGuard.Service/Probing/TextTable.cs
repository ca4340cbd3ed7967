namespace EdgeGuard.Service.Probing;

/// <summary>Columns of text, the first one left, the others right.</summary>
internal sealed class TextTable(params string[] header)
{
    private readonly List<string[]> _rows = [];

    public bool IsEmpty => _rows.Count == 0;

    public void Add(params string[] cells) => _rows.Add(cells);

    public void Write(TextWriter output)
    {
        int[] widths = [.. header.Select((h, c) => Math.Max(h.Length, _rows.Select(r => r[c].Length).DefaultIfEmpty(0).Max()))];
        foreach (string[] row in _rows.Prepend(header))
        {
            IEnumerable<string> cells = row.Select((cell, c) => c == 0 ? cell.PadRight(widths[c]) : cell.PadLeft(widths[c]));
            output.WriteLine(string.Join("  ", cells).TrimEnd());
        }
    }
}
