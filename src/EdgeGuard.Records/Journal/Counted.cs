using System.Globalization;

namespace EdgeGuard.Records.Journal;

/// <summary>A number with what it counts, in the singular where it is one: "1 unit", "2 units", "0 units".</summary>
public static class Counted
{
    /// <summary>The number and its noun.</summary>
    /// <param name="number">How many.</param>
    /// <param name="one">The noun for one of them.</param>
    /// <param name="many">The noun for any other number; null: <paramref name="one"/> with an s.</param>
    /// <returns>For example "1 entry", "3 entries"; digits without separators.</returns>
    public static string Of(long number, string one, string? many = null) =>
        string.Create(CultureInfo.InvariantCulture, $"{number} {(number == 1 ? one : many ?? one + "s")}");
}
