using System.Text;
using EdgeGuard.Records.Journal;

namespace EdgeGuard.Service.Configuration.Maps;

// A register map is a table with a fixed header, one point a row, no quoting: a cell that needs a comma has no
// business in it. `#` opens a comment. Each row is judged by RegisterRowReader, the map as a whole here and by
// OverlapRules; faults of all rows are reported together.

/// <summary>Reads a register map.</summary>
internal static class RegisterMapReader
{
    private const int MostPoints = 2_000;

    public static RegisterMap Read(string file, byte[] bytes, FaultList faults)
    {
        int before = faults.Count;
        var points = new List<RegisterPoint>();
        int columns = 0;
        int line = 0;
        foreach (string raw in Encoding.UTF8.GetString(bytes).TrimStart('\uFEFF').Split('\n'))
        {
            line++;
            int comment = raw.IndexOf('#', StringComparison.Ordinal);
            string text = comment < 0 ? raw : raw[..comment];
            if (string.IsNullOrWhiteSpace(text))
            {
                continue;
            }

            List<MapCell> cells = Split(file, line, text);
            if (columns > 0)
            {
                ReadRow(cells, columns, points, faults);
            }
            else if (MapSeparator.ReportOther(text, cells[0].At, bytes, faults) || !IsHeader(cells, faults))
            {
                return new RegisterMap(file, [], Complete: false);
            }
            else
            {
                columns = cells.Count;
            }
        }

        JudgeWhole(file, points, columns > 0, faults);
        return new RegisterMap(file, points, faults.Count == before);
    }

    private static List<MapCell> Split(string file, int line, string text)
    {
        var cells = new List<MapCell>();
        int start = 0;
        foreach (string part in text.Split(','))
        {
            int lead = part.Length - part.TrimStart().Length;
            cells.Add(new MapCell(part.Trim(), new TextPosition(file, line, start + lead + 1)));
            start += part.Length + 1;
        }

        return cells;
    }

    private static bool IsHeader(List<MapCell> cells, FaultList faults)
    {
        bool optional = cells.Count > MapColumns.Names.Count && string.Equals(cells[MapColumns.Every].Text, MapColumns.Optional, StringComparison.Ordinal);
        for (int i = 0; i < Math.Max(cells.Count, MapColumns.Names.Count); i++)
        {
            string expected = i < MapColumns.Names.Count ? MapColumns.Names[i] : optional && i == MapColumns.Every ? MapColumns.Optional : string.Empty;
            string found = i < cells.Count ? cells[i].Text : string.Empty;
            if (!string.Equals(expected, found, StringComparison.Ordinal))
            {
                MapCell cell = cells[Math.Min(i, cells.Count - 1)];
                string shown = found.Length == 0 ? "no further column" : Quoted.Of(found);
                faults.Add(cell.At, "the header of the register map is wrong", shown, expected.Length == 0 ? "no further column" : Quoted.Of(expected), "the header " + MapColumns.Header);
                return false;
            }
        }

        return true;
    }

    private static void ReadRow(List<MapCell> cells, int columns, List<RegisterPoint> points, FaultList faults)
    {
        if (cells.Count != columns)
        {
            faults.Add(cells[0].At, "wrong number of cells in a row", Counted.Of(cells.Count, "cell"), $"{columns} cells, as in the header", DecimalComma.Advice(cells, columns) ?? "to add or remove commas; an empty cell is allowed, and numbers have a decimal point");
            return;
        }

        if (new RegisterRowReader(cells, faults).Read() is { } point)
        {
            points.Add(point);
        }
    }

    private static void JudgeWhole(string file, List<RegisterPoint> points, bool headerSeen, FaultList faults)
    {
        var top = new TextPosition(file, 1, 1);
        if (!headerSeen)
        {
            faults.Add(top, "the register map is empty", "no header", "a header and one row a point", "the header " + MapColumns.Header);
        }
        else if (points.Count > MostPoints)
        {
            faults.Add(top, "the register map is too long", Counted.Of(points.Count, "point"), $"at most {MostPoints} points", "to keep only what the site needs");
        }

        var names = new HashSet<string>(StringComparer.Ordinal);
        var roles = new HashSet<string>(StringComparer.Ordinal);
        foreach (RegisterPoint point in points)
        {
            if (!names.Add(point.Name))
            {
                faults.Add(point.At, "the name of a point stands twice in the map", Quoted.Of(point.Name), "each name once", "to rename one of the two");
            }

            if (point.Role is { } role && !roles.Add(role.Name))
            {
                faults.Add(point.At, $"the role \"{role.Name}\" stands twice in the map", Quoted.Of(point.Name), "each role once in a map", "to leave the role empty and name the point under \"signals\" of the unit");
            }
        }
    }
}
