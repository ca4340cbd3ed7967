using EdgeGuard.Core.Alarms;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Thermal;
using EdgeGuard.Records.Journal;
using EdgeGuard.Records.Ring;
using EdgeGuard.Service.Requests;

namespace EdgeGuard.Service.Guarding.Watching;

/// <summary>Alarms, use and time left of a unit for the status, on the thread of whoever asks.</summary>
internal static class UnitTexts
{
    /// <summary>Time until a led ramp reaches its end, s; null where nothing is led or where it would never arrive.</summary>
    public static double? SecondsLeft(UnitTable table, UnitSnapshot unit) => unit.State switch
    {
        UnitState.Heating when !unit.RampHeld => Finite.OrNull(TimeLeft.RampSeconds(unit.LedSetpointC, table.SetpointC, table.Cool.RampUpKPerMin)),
        UnitState.LedCooldown => Finite.OrNull(TimeLeft.RampSeconds(Math.Max(unit.LedSetpointC, table.Cool.AfterCoolingBelowC), table.Cool.AfterCoolingBelowC, table.Cool.RampDownKPerMin)),
        _ => null,
    };

    /// <summary>Every alarm that is not plainly normal: shown, hidden by a person, or suppressed while its condition stands.</summary>
    public static IReadOnlyList<AlarmReport> Alarms(UnitSnapshot unit, Func<FunctionId, RequestOrder?> hiddenBy)
    {
        var reports = new List<AlarmReport>();
        for (int i = 0; i < unit.Alarms.Length; i++)
        {
            if (IsWorthTelling(in unit.Alarms[i]))
            {
                reports.Add(Report((FunctionId)i, in unit.Alarms[i], hiddenBy));
            }
        }

        return reports;
    }

    private static bool IsWorthTelling(in AlarmPointStatus alarm) => alarm.State switch
    {
        AlarmState.Normal => false,
        AlarmState.SuppressedByDesign => alarm.Condition,
        _ => true,
    };

    private static AlarmReport Report(FunctionId id, in AlarmPointStatus alarm, Func<FunctionId, RequestOrder?> hiddenBy)
    {
        bool hidden = alarm.State is AlarmState.Shelved or AlarmState.OutOfService;
        RequestOrder? order = hidden ? hiddenBy(id) : null;
        return new AlarmReport(AlarmTexts.CodeOf(id), alarm.State.ToString(), AlarmIds.PriorityOf(id).ToString())
        {
            Condition = alarm.Condition,
            ShelfSecondsLeft = alarm.State == AlarmState.Shelved ? alarm.ShelfSecondsLeft : null,
            HiddenBy = order?.Person,
            Reason = order?.Reason ?? (alarm.Suppression == AlarmSuppression.None ? null : AlarmTexts.Why(alarm.Suppression)),
            Chattering = alarm.IsChattering,
            Stale = alarm.IsStale,
            Annunciations = alarm.Annunciations,
        };
    }

    public static UseStatus Use(UnitSnapshot unit) => Use(unit.Use) with
    {
        Bands = [.. unit.BandHours.Select((hours, i) => new BandReport(UnitWatch.BandsC[i], hours)).Where(b => b.Hours > 0)],
    };

    private static UseStatus Use(in ScanRingUse use) => new()
    {
        SinceUtcMs = (long)use.SinceUtcMs,
        LossWattsPerK = Finite.OrNull(use.LossWattsPerK),
        LossBlocks = (int)use.LossBlocks,
        NoiseElementK = use.NoiseElementK,
        NoiseOutletK = use.NoiseOutletK,
        NoiseFlowKgPerHour = use.NoiseFlowKgPerHour,
        Legs = use.LegReadings == 0 ? null : new LegStatus([use.FirstLegPercent, use.SecondLegPercent, use.ThirdLegPercent], (int)use.LegReadings, Finite.OrNull(use.LegPercentPerYear), Finite.OrNull(use.LegWarnUtcMs), Finite.OrNull(use.LegWarnEarliestUtcMs), Finite.OrNull(use.LegWarnLatestUtcMs)),
        KilowattHours = use.EnergyKwh,
        PoweredHours = use.PoweredHours,
        ContactorClosings = (int)use.ContactorClosings,
        OpeningsUnderPower = (int)use.OpeningsUnderPower,
        LedCycles = (int)use.LedCycles,
        ForcedCycles = (int)use.ForcedCycles,
        DeepestLedK = use.DeepestLedK,
        DeepestForcedK = use.DeepestForcedK,
        FastestRiseKPerMin = use.FastestRiseKPerMin,
        FastestLedFallKPerMin = use.FastestLedFallKPerMin,
        FastestForcedFallKPerMin = use.FastestForcedFallKPerMin,
        LedExcessSeconds = use.LedExcessSeconds,
        ForcedExcessSeconds = use.ForcedExcessSeconds,
    };
}
