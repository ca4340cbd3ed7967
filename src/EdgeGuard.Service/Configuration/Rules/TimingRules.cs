using EdgeGuard.Records.Journal;
using EdgeGuard.Service.Configuration.Drafts;
using EdgeGuard.Service.Configuration.Maps;

namespace EdgeGuard.Service.Configuration.Rules;

// A value that is wrong is told once, where it stands: a scan period that is too long as itself and not as a watchdog and a
// limit of every unit that are too short for it, a limit that is too short not again as stale time and answer time that
// are too long for it.

/// <summary>Times against the scan period and against each other.</summary>
internal static class TimingRules
{
    private const double UsualScanMs = 100;

    public static void Check(SiteDraft site, FaultList faults)
    {
        foreach (LinkDraft link in site.Links)
        {
            if (link.PollLeadMs >= site.ScanMs)
            {
                faults.Add(link.Section.At("pollLeadMs"), "polling starts before the scan period begins", $"{link.PollLeadMs} ms", $"less than the scan period of {site.ScanMs} ms", $"\"pollLeadMs\": {Math.Floor(site.ScanMs * 0.6)}");
            }
        }

        bool scanIsTheCause = CheckScan(site, faults);
        foreach (UnitDraft unit in site.Units)
        {
            if (!scanIsTheCause)
            {
                CheckUnit(site.ScanMs, unit, faults);
            }

            CheckAnswerTime(site, unit, faults);
            CheckRates(site.ScanMs, unit, faults);
        }
    }

    /// <summary>
    /// True when several times are too short for the scan period and all of them would do for the usual one: then the scan
    /// period is the mistake, and is told alone.
    /// </summary>
    private static bool CheckScan(SiteDraft site, FaultList faults)
    {
        var broken = new FaultList();
        var usual = new FaultList();
        foreach (UnitDraft unit in site.Units)
        {
            CheckUnit(site.ScanMs, unit, broken);
            CheckUnit(UsualScanMs, unit, usual);
        }

        if (!site.Section.Has("scanMs") || !(site.ScanMs > UsualScanMs) || broken.Count < 2 || usual.Count > 0)
        {
            return false;
        }

        double longestMs = site.Units.Min(LongestScanMs);
        SiteFault first = broken.Sorted()[0];
        faults.Add(site.Section.At("scanMs"), $"the scan period is too long for {Counted.Of(broken.Count, "time")} of the units", $"{site.ScanMs} ms; for one, {first.What}: {first.Found}", $"at most {longestMs} ms with the times as they stand", $"\"scanMs\": {UsualScanMs}");
        return true;
    }

    /// <summary>The longest scan period, in whole steps of 10 ms, for which the times of the unit do; a time that is wrong itself does not count.</summary>
    private static double LongestScanMs(UnitDraft unit)
    {
        double[] mostMs = [(unit.WatchdogMs - 1) / 2, unit.Comm.Number("limitMs") / 3, unit.Sens.Number("staleMs") / 2];
        return 10 * Math.Floor(mostMs.Where(static ms => !double.IsNaN(ms)).DefaultIfEmpty(double.PositiveInfinity).Min() / 10);
    }

    private static void CheckUnit(double scanMs, UnitDraft unit, FaultList faults)
    {
        double commMs = unit.Comm.Number("limitMs");
        double staleMs = unit.StaleMs(scanMs);
        bool watchdogTooFast = unit.WatchdogMs <= 2 * scanMs;
        bool limitTooShort = commMs < 3 * scanMs;
        if (watchdogTooFast)
        {
            faults.Add(unit.Section.At("watchdogMs"), "the watchdog is too fast for the scan", $"{unit.WatchdogMs} ms", $"more than two scan periods, {2 * scanMs} ms", "the time set in the cabinet, or a shorter \"scanMs\"");
        }

        if (limitTooShort)
        {
            faults.Add(unit.Comm.At("limitMs"), "the communication limit is too short for the scan", $"{commMs} ms", $"at least three scan periods, {3 * scanMs} ms", $"\"limitMs\": {Math.Max(1_000, 3 * scanMs)}");
        }

        // Beyond the watchdog time the cabinet has removed power on its own; the trip must be latched by then.
        if (unit.HasWatchdog && !watchdogTooFast && commMs > unit.WatchdogMs)
        {
            faults.Add(unit.Comm.At("limitMs"), "the communication limit is longer than the watchdog", $"{commMs} ms", $"at most the watchdog time, {unit.WatchdogMs} ms", "a shorter limit, so that the trip is latched when the cabinet drops power");
        }

        if (staleMs < 2 * scanMs)
        {
            faults.Add(unit.Sens.At("staleMs"), "values would be stale between two scans", $"{staleMs} ms", $"at least two scan periods, {2 * scanMs} ms", $"\"staleMs\": {3 * scanMs}");
        }

        if (!limitTooShort && staleMs > commMs)
        {
            faults.Add(unit.Sens.At("staleMs"), "values would still be trusted when the link is given up", $"{staleMs} ms", $"at most the communication limit, {commMs} ms", $"\"staleMs\": {3 * scanMs}");
        }

        if (unit.HoldMs(scanMs) < staleMs)
        {
            faults.Add(unit.Sens.At("holdMs"), "the hold time is shorter than the stale time", $"{unit.HoldMs(scanMs)} ms", $"at least {staleMs} ms", "to leave \"holdMs\" out");
        }
    }

    private static void CheckAnswerTime(SiteDraft site, UnitDraft unit, FaultList faults)
    {
        foreach (DeviceDraft? device in new[] { unit.Controller, unit.Meter })
        {
            if (device is not { Link: >= 0 } || unit.Comm.Number("limitMs") < 3 * site.ScanMs)
            {
                continue;
            }

            LinkDraft link = site.Links[device.Link];
            if (link.AnswerMs >= unit.Comm.Number("limitMs"))
            {
                faults.Add(link.Section.At("answerMs"), "one lost answer would use up the communication limit", $"{link.AnswerMs} ms", $"less than the communication limit of {unit.Comm.Number("limitMs")} ms", "\"answerMs\": 200");
            }
        }
    }

    /// <summary>What decides must be read again before it is stale, one lost answer included.</summary>
    private static void CheckRates(double scanMs, UnitDraft unit, FaultList faults)
    {
        foreach (BoundPoint bound in unit.BoundSignals.Values.Where(b => b.Point.EveryScans > 1))
        {
            double periodMs = bound.Point.EveryScans * scanMs;
            if (2 * periodMs > unit.StaleMs(scanMs))
            {
                faults.Add(bound.Point.Place(MapColumns.Every), $"{Quoted.Of(bound.Point.Name)} would be stale before it is read again", $"read every {periodMs} ms", $"at most half of \"staleMs\", {unit.StaleMs(scanMs)} ms", "an empty cell in column \"every\", or a larger \"staleMs\" if the unit can wait that long");
            }
        }
    }
}
