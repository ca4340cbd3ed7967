using EdgeGuard.Service.Configuration.Drafts;
using EdgeGuard.Service.Configuration.Maps;

namespace EdgeGuard.Service.Configuration.Rules;

/// <summary>Times against the scan period and against each other.</summary>
internal static class TimingRules
{
    public static void Check(SiteDraft site, FaultList faults)
    {
        foreach (LinkDraft link in site.Links)
        {
            if (link.PollLeadMs >= site.ScanMs)
            {
                faults.Add(link.Section.At("pollLeadMs"), "polling starts before the scan period begins", $"{link.PollLeadMs} ms", $"less than the scan period of {site.ScanMs} ms", $"\"pollLeadMs\": {Math.Floor(site.ScanMs * 0.6)}");
            }
        }

        foreach (UnitDraft unit in site.Units)
        {
            CheckUnit(site.ScanMs, unit, faults);
            CheckAnswerTime(site, unit, faults);
            CheckRates(site.ScanMs, unit, faults);
        }
    }

    private static void CheckUnit(double scanMs, UnitDraft unit, FaultList faults)
    {
        double commMs = unit.Comm.Number("limitMs");
        double staleMs = unit.StaleMs(scanMs);
        if (unit.WatchdogMs <= 2 * scanMs)
        {
            faults.Add(unit.Section.At("watchdogMs"), "the watchdog is too fast for the scan", $"{unit.WatchdogMs} ms", $"more than two scan periods, {2 * scanMs} ms", "the time set in the cabinet, or a shorter \"scanMs\"");
        }

        if (commMs < 3 * scanMs)
        {
            faults.Add(unit.Comm.At("limitMs"), "the communication limit is too short for the scan", $"{commMs} ms", $"at least three scan periods, {3 * scanMs} ms", $"\"limitMs\": {Math.Max(1_000, 3 * scanMs)}");
        }

        // Beyond the watchdog time the cabinet has removed power on its own; the trip must be latched by then.
        if (unit.HasWatchdog && commMs > unit.WatchdogMs)
        {
            faults.Add(unit.Comm.At("limitMs"), "the communication limit is longer than the watchdog", $"{commMs} ms", $"at most the watchdog time, {unit.WatchdogMs} ms", "a shorter limit, so that the trip is latched when the cabinet drops power");
        }

        if (staleMs < 2 * scanMs)
        {
            faults.Add(unit.Sens.At("staleMs"), "values would be stale between two scans", $"{staleMs} ms", $"at least two scan periods, {2 * scanMs} ms", $"\"staleMs\": {3 * scanMs}");
        }

        if (staleMs > commMs)
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
            if (device is not { Link: >= 0 })
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
