using System.Globalization;

namespace EdgeGuard.Benchmarks;

/// <summary>The one table of the benchmark: rows are told on standard error as they come, the whole is printed at the end.</summary>
internal sealed class BenchTable
{
    /// <summary>Stands where a figure makes no sense.</summary>
    public const string None = "–";

    private readonly List<string[]> _rows = [["load", "security", "ours", "npm", "ratio", "goal", "CPU ours", "CPU npm", "allocated"]];

    /// <summary>One load under one security.</summary>
    public void Add(string load, string security, string ours, string npm = None, string ratio = None, string goal = None, string cpuOurs = None, string cpuNpm = None, string allocated = None)
    {
        _rows.Add([load, security, ours, npm, ratio, goal, cpuOurs, cpuNpm, allocated]);
        Console.Error.WriteLine(string.Join("  ", _rows[^1]));
    }

    /// <summary>A figure with its unit, or the sign for none.</summary>
    public static string Figure(double? value, string format, string unit = "") =>
        value is { } number && !double.IsNaN(number) ? number.ToString(format, CultureInfo.InvariantCulture) + unit : None;

    public void Print()
    {
        int[] widths = [.. Enumerable.Range(0, _rows[0].Length).Select(column => _rows.Max(row => row[column].Length))];
        for (int i = 0; i < _rows.Count; i++)
        {
            Console.WriteLine("| " + string.Join(" | ", _rows[i].Select((cell, column) => cell.PadRight(widths[column]))) + " |");
            if (i == 0)
            {
                Console.WriteLine("|" + string.Join('|', widths.Select(static width => new string('-', width + 2))) + "|");
            }
        }
    }
}
