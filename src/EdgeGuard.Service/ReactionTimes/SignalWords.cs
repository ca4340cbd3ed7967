using System.Globalization;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Service.Configuration;
using EdgeGuard.Service.Configuration.Maps;

namespace EdgeGuard.Service.ReactionTimes;

/// <summary>
/// What differs between the signals of a unit in two sites, in words: where a reading comes from and how it is taken. One
/// line for all signals that changed in the same way, since a changed scan period changes the times of every one.
/// </summary>
internal static class SignalWords
{
    /// <summary>Fields of a signal's line in the settings text that have words here; a line of another length is told as it stands.</summary>
    public const int Fields = 13;

    /// <summary>One line for each kind of change of the signals that both units have.</summary>
    public static IEnumerable<string> Of(SiteConfiguration before, UnitTable old, SiteConfiguration after, UnitTable now) =>
        old.Signals.Join(now.Signals, s => s.Role, s => s.Role, (s, other) => (s.Role, Change: string.Join(", ", Changes(before, s, after, other))))
            .Where(s => s.Change.Length > 0)
            .GroupBy(s => s.Change, s => s.Role, StringComparer.Ordinal)
            .Select(g => $"{string.Join(", ", g)} on {old.Name}: {g.Key}");

    private static IEnumerable<string> Changes(SiteConfiguration before, SignalTable old, SiteConfiguration after, SignalTable now) =>
        Facts(before, old).Zip(Facts(after, now)).Where(p => !string.Equals(p.First.Value, p.Second.Value, StringComparison.Ordinal))
            .Select(p => $"{p.First.Name} {p.First.Value} → {p.Second.Value}");

    private static IEnumerable<(string Name, string Value)> Facts(SiteConfiguration site, SignalTable signal) =>
    [
        ("read from", Place(site, signal)),
        ("type", signal.Type.ToString()),
        ("order", signal.Order.ToString().ToUpperInvariant()),
        ("bits", string.Create(CultureInfo.InvariantCulture, $"{signal.BitCount} from {signal.Bit}")),
        ("scale", Figure(signal.Scale)),
        ("offset", Figure(signal.Offset)),
        ("range", $"{Figure(signal.RangeMin)} to {Figure(signal.RangeMax)}"),
        ("stale after", Figure(signal.StaleMs / 1_000.0) + " s"),
        ("dropped after", Figure(signal.HoldMs / 1_000.0) + " s"),
        ("sentinel", double.IsNaN(signal.Sentinel) ? "none" : Figure(signal.Sentinel)),
    ];

    private static string Place(SiteConfiguration site, SignalTable signal)
    {
        if (signal.Block >= site.Blocks.Count)
        {
            return "the guard itself"; // the verdict on the settings of a device
        }

        PollBlock block = site.Blocks[signal.Block];
        string address = AddressNotation.Of(block.Table, block.Address + signal.WordOffset);
        return string.Create(CultureInfo.InvariantCulture, $"{address} of unit id {block.DeviceUnitId} on {site.Links[block.LinkIndex].Name}");
    }

    private static string Figure(double value) => value.ToString(CultureInfo.InvariantCulture);
}
