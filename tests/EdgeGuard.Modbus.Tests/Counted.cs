using System.Globalization;
using EdgeGuard.Modbus.Client;

namespace EdgeGuard.Modbus.Tests;

/// <summary>What a link has counted, as text: "Requests 2, Answers 1, …", so that a counter that should stand still shows as well.</summary>
internal static class Counted
{
    /// <summary>The text for these counts; zeros are left out.</summary>
    public static string Text(params IEnumerable<(LinkCounter Counter, long Count)> counts) => string.Join(", ", counts
        .GroupBy(c => c.Counter)
        .Select(g => (Counter: g.Key, Count: g.Sum(c => c.Count)))
        .Where(c => c.Count != 0)
        .OrderBy(c => c.Counter)
        .Select(c => string.Create(CultureInfo.InvariantCulture, $"{c.Counter} {c.Count}")));

    /// <summary>All counters of a link but some.</summary>
    public static string Without(this LinkCounters counters, params LinkCounter[] without) =>
        Text(Enum.GetValues<LinkCounter>().Where(c => !without.Contains(c)).Select(c => (c, counters[c])));
}
