using System.Globalization;
using EdgeGuard.Acceptance.Tests.Rigs;
using EdgeGuard.Service.Configuration;
using EdgeGuard.VirtualPlant.Profiles;

namespace EdgeGuard.Acceptance.Tests.ClosedLoop;

/// <summary>
/// Sites for one heater at a time, made from the example of the pilot hall: N-1 and A-1 as they stand there, T-40 (which
/// serves tests only) with the limits of its profile in place of those of N-1.
/// </summary>
internal static class PlantSites
{
    /// <summary>A heater under guard whose blower moves this much hot gas at its run demand; or as much cold gas, where it is held.</summary>
    public static GuardedPlant Guarded(string name, double hotFlowKgPerHour, bool heldFlow = false, Func<string, string>? edit = null)
    {
        Assert.True(PlantProfiles.TryFind(name, out PlantProfile? found));
        PlantProfile profile = found with { HotFlowKgPerHour = hotFlowKgPerHour, HotToColdFlow = heldFlow ? 1 : found.HotToColdFlow };
        using var folder = new TestFolder();
        string hall = Path.Combine(Repository.Root, "config", "pilot-hall");
        foreach (string file in Directory.GetFiles(hall, "*.csv"))
        {
            File.Copy(file, Path.Combine(folder.Path, Path.GetFileName(file)));
        }

        string text = Alone(File.ReadAllText(Path.Combine(hall, "site.json")), keepFirst: name != "A-1");
        text = name == "T-40" ? AsT40(text) : text;
        File.WriteAllText(Path.Combine(folder.Path, "site.json"), edit is null ? Proved(text, profile) : edit(Proved(text, profile)));
        SiteLoadResult result = SiteLoader.Load(folder.Path, new SiteLoadOptions { Today = new DateOnly(2026, 2, 1) });
        Assert.True(result.Site is not null, string.Join('\n', result.Faults));
        return new GuardedPlant(result.Site, [profile]);
    }

    /// <summary>The flow is proved at what this blower moves cold, less a twentieth.</summary>
    private static string Proved(string text, PlantProfile profile)
    {
        double coldKgPerHour = profile.HotFlowKgPerHour / profile.HotToColdFlow;
        string stated = string.Create(CultureInfo.InvariantCulture, $"\"provingKgPerHour\": {Math.Floor(coldKgPerHour * 0.95)}, \"hotToColdFlow\": {profile.HotToColdFlow}");
        return Replaced(text, "\"provingKgPerHour\": 130", stated);
    }

    /// <summary>Leaves one of the two units with its link and devices.</summary>
    private static string Alone(string text, bool keepFirst)
    {
        string other = keepFirst ? "a1" : "n1";
        text = string.Join('\n', text.Split('\n').Where(l => !(l.Contains("{ \"name\": \"" + other, StringComparison.Ordinal))));
        int first = text.IndexOf("    {\n      \"name\": \"N-1\"", StringComparison.Ordinal);
        int second = text.IndexOf("    {\n      \"name\": \"A-1\"", StringComparison.Ordinal);
        int end = text.LastIndexOf("  ],", StringComparison.Ordinal);
        Assert.True(first > 0 && second > first && end > second, "the example site has another shape");
        return keepFirst ? text[..second] + text[end..] : text[..first] + text[second..];
    }

    private static string AsT40(string text)
    {
        (string Old, string New)[] changes =
        [
            ("\"name\": \"N-1\"", "\"name\": \"T-40\""), ("\"gas\": \"N2\"", "\"gas\": \"air\""), ("\"supplyLimitKw\": 45", "\"supplyLimitKw\": 60"),
            ("\"ratedPowerKw\": 36", "\"ratedPowerKw\": 40"), ("\"rampPowerKw\": 34.5", "\"rampPowerKw\": 40"), ("\"setpointC\": 650", "\"setpointC\": 1100"),
            ("\"watchdogMs\": 2000", "\"watchdogMs\": 1000"), ("\"limitKgPerHour\": 70", "\"limitKgPerHour\": 35"),
            ("\"afterCoolingKgPerHour\": 45", "\"afterCoolingKgPerHour\": 25"), ("\"alarmC\": 800, \"tripC\": 850, \"destructionC\": 1100", "\"alarmC\": 1230, \"tripC\": 1260, \"destructionC\": 1350"),
            ("\"alarmC\": 680, \"tripC\": 720", "\"alarmC\": 1115, \"tripC\": 1130"), ("\"rampUpKPerMin\": 60", "\"rampUpKPerMin\": 90"), ("\"afterCoolingBelowC\": 150", "\"afterCoolingBelowC\": 200"),
        ];
        foreach ((string old, string @new) in changes)
        {
            text = Replaced(text, old, @new);
        }

        // The time from a fault to the removal is not what is looked at here.
        return string.Join('\n', text.Split('\n').Where(static l => !l.Contains("\"reaction\"", StringComparison.Ordinal)));
    }

    private static string Replaced(string text, string old, string @new)
    {
        Assert.Contains(old, text, StringComparison.Ordinal);
        return text.Replace(old, @new, StringComparison.Ordinal);
    }
}
