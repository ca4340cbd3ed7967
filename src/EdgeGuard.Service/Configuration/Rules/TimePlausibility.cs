using EdgeGuard.Service.Configuration.Drafts;
using EdgeGuard.Service.Configuration.Schema;

namespace EdgeGuard.Service.Configuration.Rules;

// All times of the site file are in ms. Who takes a key for seconds and writes 2 gets a delay that passes every range and
// means nothing: delays are counted in scans. What no plant can want is warned of, and nothing else: a warning that a good
// site gives is one that nobody reads. Zero says "none" and is never meant in another unit. What stands outside the range of
// its key is a fault, and says the same there (ValueCheck).
//
// The floors. A delay, blanking or hot pre-flow below one scan is one scan. A cold pre-flow below 1 s proves no blower. A sensor
// that reads the same for less than ten scans is steady, not frozen. A sheathed thermocouple or an outlet sensor in gas lags by
// seconds, never by less than 100 ms; a sensor on the wire not by less than 10 ms; a meter is not damped by less; a
// contactor needs a quarter of a mains period at least to open, and no device answers within 0.1 ms. These floors are
// common practice, no source; each is a tenth or less of what is usual.

/// <summary>Times of a site file that are too short for what they are for.</summary>
internal static class TimePlausibility
{
    private const double ColdPreFlowMs = 1_000;
    private const double SheathedLagMs = 100;
    private const double ShortestLagMs = 10;
    private const double ContactorMs = 5;
    private const double AnswerDelayMs = 0.1;
    private const int FrozenScans = 10;

    /// <summary>One warning a time, in the form of a fault; a site without them is usual.</summary>
    public static IReadOnlyList<SiteFault> Of(SiteDraft site)
    {
        var warnings = new FaultList();
        foreach (DeviceDraft device in site.Devices)
        {
            Judge(device.Section, "answerDelayMs", AnswerDelayMs, "no device answers within it", warnings);
        }

        foreach (UnitDraft unit in site.Units)
        {
            JudgeDelays(site.ScanMs, unit, warnings);
            JudgeProcess(site.ScanMs, unit, warnings);
        }

        return warnings.Sorted();
    }

    private static void JudgeDelays(double scanMs, UnitDraft unit, FaultList warnings)
    {
        (Section Section, string Key)[] delays =
        [
            (unit.Flow, "delayMs"), (unit.Flow, "setbackMs"), (unit.Flow, "hotPreFlowMs"), (unit.Elem, "delayMs"), (unit.Outl, "delayMs"), (unit.Sens, "delayMs"),
            (unit.Resd, "blankingMs"), (unit.Voting, "deviationDelayMs"), (unit.Phas, "hardDelayMs"), (unit.Phas, "mildDelayMs"), (unit.Leak, "delayMs"),
        ];
        foreach ((Section section, string key) in delays)
        {
            Judge(section, key, scanMs, "times are counted in scans, so it is one scan", warnings);
        }
    }

    private static void JudgeProcess(double scanMs, UnitDraft unit, FaultList warnings)
    {
        bool onWire = unit.Reaction.Text("elementSensor") is "onWire";
        Judge(unit.Flow, "preFlowMs", ColdPreFlowMs, "no blower proves its flow in it", warnings);
        Judge(unit.Sens, "frozenMs", FrozenScans * scanMs, "every steady reading would be a frozen sensor", warnings);
        Judge(unit.Reaction, "elementLagMs", onWire ? ShortestLagMs : SheathedLagMs, "no such sensor is as fast, and the reaction time is computed from it", warnings);
        Judge(unit.Reaction, "outletLagMs", SheathedLagMs, "no sensor in gas is as fast, and the reaction time is computed from it", warnings);
        Judge(unit.Reaction, "meterDampingMs", ShortestLagMs, "no meter is as fast, and the reaction time is computed from it", warnings);
        Judge(unit.Reaction, "contactorMs", ContactorMs, "no contactor is as fast, and the reaction time is computed from it", warnings);
    }

    private static void Judge(Section section, string key, double leastMs, string why, FaultList warnings)
    {
        double statedMs = section.Has(key) ? section.Number(key) : double.NaN;
        if (statedMs > 0 && statedMs < leastMs)
        {
            KeySpec spec = section.Spec(key);
            string expected = spec.Min <= 0 ? $"0 for none, or at least {leastMs} ms" : $"at least {leastMs} ms";
            warnings.Add(section.At(key), $"\"{key}\" is shorter than can be meant: {why}", $"{statedMs} ms", expected, ValueCheck.MeantInSeconds(spec, statedMs) ?? $"{leastMs} or more");
        }
    }
}
