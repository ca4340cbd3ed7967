namespace EdgeGuard.Service.Configuration.Maps;

// With the comma as separator a decimal comma makes two cells of one number, so the row has a cell too many, and nothing
// in "17 cells" tells a person why. The row is put together again at each place where a number may stand; where that
// makes it right in every column, this was meant.

/// <summary>Finds the decimal comma in a row of a register map that has too many cells.</summary>
internal static class DecimalComma
{
    private static readonly int[] NumberColumns = [MapColumns.Scale, MapColumns.Offset, MapColumns.Min, MapColumns.Max, MapColumns.Sentinel];

    /// <summary>True for digits, a comma and digits, with a sign or without.</summary>
    public static bool IsOne(string text)
    {
        string[] parts = text.TrimStart('-', '+').Split(',');
        return parts.Length == 2 && IsDigits(parts[0]) && IsDigits(parts[1]);
    }

    /// <summary>What to do about the row; null when no decimal comma explains it.</summary>
    /// <param name="cells">Cells of the row.</param>
    /// <param name="columns">Columns of the header.</param>
    public static string? Advice(List<MapCell> cells, int columns) =>
        Join(cells, columns, 0) is { } joined
            ? string.Join(", ", joined.Select(static j => $"{j.Number} in column \"{MapColumns.Names[j.Column]}\"")) + ", if a decimal comma was meant: a comma separates cells, the decimal sign is a point"
            : null;

    /// <summary>The numbers put together that make the row right; null when none do.</summary>
    private static List<(int Column, string Number)>? Join(List<MapCell> cells, int columns, int from)
    {
        if (cells.Count <= columns)
        {
            return cells.Count == columns && IsRight(cells) ? [] : null;
        }

        foreach (int column in NumberColumns.Where(c => c >= from && c + 1 < cells.Count))
        {
            // Where the list separator is a comma and the decimal sign too, a spreadsheet puts such a number in quotes.
            (string whole, string fraction) = (cells[column].Text.TrimStart('"'), cells[column + 1].Text.TrimEnd('"'));
            // "1,0" is more often two columns than a number: nobody writes one as 1.0 here.
            if (IsOne($"{whole},{fraction}") && fraction.Any(static d => d > '0'))
            {
                string number = $"{whole}.{fraction}";
                List<MapCell> joined = [.. cells[..column], new MapCell(number, cells[column].At), .. cells[(column + 2)..]];
                if (Join(joined, columns, column + 1) is { } further)
                {
                    return [(column, number), .. further];
                }
            }
        }

        return null;
    }

    private static bool IsRight(List<MapCell> cells) => new RegisterRowReader(cells, new FaultList()).Read() is not null;

    private static bool IsDigits(string text) => text.Length > 0 && text.All(char.IsAsciiDigit);
}
