using System.Text.Json;

namespace EdgeGuard.Demo;

/// <summary>The guard's answer to one conducted scan: `scan N {json}`.</summary>
internal sealed record GuardRound(IReadOnlyList<GuardUnitView> Units, IReadOnlyList<GuardEventView> Events, double SitePowerKw)
{
    /// <summary>The unit of a name.</summary>
    public GuardUnitView this[string unit] => Units.First(u => u.Name == unit);

    /// <exception cref="DemoException">The line is not the answer of a scan.</exception>
    public static GuardRound Parse(string line)
    {
        int brace = line.IndexOf('{', StringComparison.Ordinal);
        if (!line.StartsWith("scan ", StringComparison.Ordinal) || brace < 0)
        {
            throw new DemoException($"the guard answered \"{line}\" instead of a scan");
        }

        using JsonDocument document = JsonDocument.Parse(line.AsMemory(brace));
        JsonElement root = document.RootElement;
        return new GuardRound(
            [.. root.GetProperty("units").EnumerateArray().Select(GuardUnitView.Parse)],
            [.. root.GetProperty("events").EnumerateArray().Select(GuardEventView.Parse)],
            GuardUnitView.Number(root, "site_power_kw"));
    }
}
