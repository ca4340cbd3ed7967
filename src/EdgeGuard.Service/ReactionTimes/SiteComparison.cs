using System.Globalization;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Service.Configuration;

namespace EdgeGuard.Service.ReactionTimes;

/// <summary>
/// What differs between two sites, in words: each changed setting with both values and, where the reaction time of its
/// function changes with it, both chains. What has no words (poll requests, links, newer settings) is told by its
/// line of the settings text, so that two sites with different digests never compare as equal.
/// </summary>
public static class SiteComparison
{
    /// <summary>Place of the length of a block in the settings line of BALA.</summary>
    private const int BalanceBlock = 4;

    /// <summary>One line for each difference; none for two sites of equal digest.</summary>
    /// <param name="before">The site as it was.</param>
    /// <param name="after">The site as it is to be.</param>
    public static IReadOnlyList<string> Words(SiteConfiguration before, SiteConfiguration after)
    {
        ArgumentNullException.ThrowIfNull(before);
        ArgumentNullException.ThrowIfNull(after);
        var lines = new List<string>();
        var told = new HashSet<(string Unit, FunctionId Function)>();
        CompareUnits(before, after, lines);
        Dictionary<string, int> changes = CompareSettings(before, after, lines, told);
        CompareChains(before, after, lines, told);
        CompareSignals(before, after, lines);
        CompareLines(before, after, lines, changes);
        if (lines.Count == 0 && !string.Equals(before.SettingsDigest, after.SettingsDigest, StringComparison.Ordinal))
        {
            lines.Add("the order of the units differs");
        }

        return lines;
    }

    private static void CompareUnits(SiteConfiguration before, SiteConfiguration after, List<string> lines)
    {
        string[] old = [.. before.Table.Units.Select(u => u.Name)];
        string[] now = [.. after.Table.Units.Select(u => u.Name)];
        lines.AddRange(old.Except(now, StringComparer.Ordinal).Select(u => $"unit {u}: no longer there"));
        lines.AddRange(now.Except(old, StringComparer.Ordinal).Select(u => $"unit {u}: new"));
    }

    /// <summary>Tells each changed setting; gives how many were told of each line of the settings text.</summary>
    private static Dictionary<string, int> CompareSettings(
        SiteConfiguration before, SiteConfiguration after, List<string> lines, HashSet<(string Unit, FunctionId Function)> told)
    {
        var changes = new Dictionary<string, int>(StringComparer.Ordinal);
        Dictionary<string, string> now = NamedSettings.Of(after).ToDictionary(s => s.Name, s => s.Value, StringComparer.Ordinal);
        foreach (NamedSetting old in NamedSettings.Of(before))
        {
            if (now.TryGetValue(old.Name, out string? value) && !string.Equals(value, old.Value, StringComparison.Ordinal))
            {
                string chain = ChainWords(before, after, old.Unit, old.Function);
                told.Add((old.Unit, old.Function));
                changes[old.Line] = changes.GetValueOrDefault(old.Line) + 1;
                lines.Add($"{old.Name}: {old.Value} → {value}{(chain.Length > 0 ? "; " + chain : string.Empty)}");
            }
        }

        return changes;
    }

    /// <summary>Chains that change without a setting of their own function: by the scan period, the watchdog, a lag.</summary>
    private static void CompareChains(
        SiteConfiguration before, SiteConfiguration after, List<string> lines, HashSet<(string Unit, FunctionId Function)> told)
    {
        foreach (UnitTable unit in before.Table.Units)
        {
            foreach (FunctionId function in Budgets(before, unit.Name).Select(b => b.Function).Distinct())
            {
                string words = ChainWords(before, after, unit.Name, function);
                if (words.Length > 0 && told.Add((unit.Name, function)))
                {
                    lines.Add($"{function.ToString().ToUpperInvariant()} on {unit.Name}: {words}");
                }
            }
        }
    }

    private static string ChainWords(SiteConfiguration before, SiteConfiguration after, string unit, FunctionId function)
    {
        // The chain of a function is the same in each scenario; the time there is differs.
        ReactionBudget? old = Budgets(before, unit).FirstOrDefault(b => b.Function == function);
        ReactionBudget? now = Budgets(after, unit).FirstOrDefault(b => b.Function == function);
        if (old is null || now is null)
        {
            return string.Empty;
        }

        var words = new List<string>();
        AddChange(words, "chain", old.CommandMs, now.CommandMs);
        AddChange(words, "by the watchdog", old.WorstMs, now.WorstMs);
        AddChange(words, "process safety time", old.AvailableMs, now.AvailableMs);
        return string.Join(", ", words);
    }

    private static void AddChange(List<string> words, string name, double old, double now)
    {
        if (!old.Equals(now))
        {
            words.Add($"{name} {BudgetTerm.Seconds(old)} → {BudgetTerm.Seconds(now)}");
        }
    }

    private static IReadOnlyList<ReactionBudget> Budgets(SiteConfiguration site, string unit)
    {
        for (int i = 0; i < site.Table.Units.Count; i++)
        {
            if (string.Equals(site.Table.Units[i].Name, unit, StringComparison.Ordinal))
            {
                return site.Units[i].Budgets;
            }
        }

        return [];
    }

    private static void CompareSignals(SiteConfiguration before, SiteConfiguration after, List<string> lines)
    {
        foreach (UnitTable unit in before.Table.Units)
        {
            UnitTable? now = after.Table.Units.FirstOrDefault(u => string.Equals(u.Name, unit.Name, StringComparison.Ordinal));
            lines.AddRange(now is null ? [] : SignalWords.Of(before, unit, after, now));
        }
    }

    /// <summary>True for the line of a signal that both sites have, which <see cref="SignalWords"/> has told.</summary>
    private static bool IsTold(string key, string was, string becomes) =>
        key.Contains(".signal.", StringComparison.Ordinal) && was.Split(" | ").Length == SignalWords.Fields && becomes.Split(" | ").Length == SignalWords.Fields;

    /// <summary>Lines in which more differs than was told; lines of units that come or go are told with the unit.</summary>
    private static void CompareLines(SiteConfiguration before, SiteConfiguration after, List<string> lines, Dictionary<string, int> changes)
    {
        Dictionary<string, string> old = LinesByName(before);
        Dictionary<string, string> now = LinesByName(after);
        string[] gone = [.. before.Table.Units.Select(u => u.Name).Except(after.Table.Units.Select(u => u.Name), StringComparer.Ordinal)];
        string[] come = [.. after.Table.Units.Select(u => u.Name).Except(before.Table.Units.Select(u => u.Name), StringComparer.Ordinal)];
        foreach (string key in old.Keys.Union(now.Keys, StringComparer.Ordinal).Where(k => !gone.Concat(come).Contains(k.Split('.')[0], StringComparer.Ordinal)))
        {
            string was = old.GetValueOrDefault(key, "not there");
            string becomes = now.GetValueOrDefault(key, "not there");
            if (Differences(was, becomes) > changes.GetValueOrDefault(key) && !IsTold(key, was, becomes))
            {
                lines.Add($"settings line {key}: {was} → {becomes}");
            }
        }
    }

    /// <summary>Blocks that are kept in scans as the time they take: another scan period alone changes none of them.</summary>
    private static string InTime(string key, string values, int scanMs)
    {
        string[] fields = values.Split(" | ");
        int block = key.EndsWith(".sens.model", StringComparison.Ordinal) ? 0 : key.EndsWith(".bala", StringComparison.Ordinal) ? BalanceBlock : -1;
        if (block < 0 || !int.TryParse(fields[block], NumberStyles.None, CultureInfo.InvariantCulture, out int scans))
        {
            return values;
        }

        fields[block] = string.Create(CultureInfo.InvariantCulture, $"{(long)scans * scanMs} ms");
        bool follows = block == BalanceBlock && string.Equals(fields[block + 1], (scanMs / 1000.0).ToString("R", CultureInfo.InvariantCulture), StringComparison.Ordinal);
        fields[block + 1] = follows ? "scan period" : fields[block + 1];
        return string.Join(" | ", fields);
    }

    private static int Differences(string was, string becomes)
    {
        string[] old = was.Split(" | ");
        string[] now = becomes.Split(" | ");
        return old.Zip(now).Count(p => !string.Equals(p.First, p.Second, StringComparison.Ordinal)) + Math.Abs(old.Length - now.Length);
    }

    private static Dictionary<string, string> LinesByName(SiteConfiguration site)
    {
        var lines = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (string line in site.SettingsText.Split('\n'))
        {
            int split = line.IndexOf(" = ", StringComparison.Ordinal);
            if (split > 0)
            {
                // Some keys stand on several lines (the points of a curve): their values are taken together.
                string key = Named(site, line[..split]);
                string values = InTime(key, line[(split + 3)..], site.Table.ScanMs);
                lines[key] = lines.TryGetValue(key, out string? first) ? $"{first} | {values}" : values;
            }
        }

        return lines;
    }

    /// <summary>"unit.0.signal.3" as "N-1.signal.3", so that units are compared by name.</summary>
    private static string Named(SiteConfiguration site, string key)
    {
        string[] parts = key.Split('.');
        return parts is ["unit", var number, ..] && int.TryParse(number, CultureInfo.InvariantCulture, out int unit)
            ? string.Join('.', parts.Skip(2).Prepend(site.Table.Units[unit].Name))
            : key;
    }
}
