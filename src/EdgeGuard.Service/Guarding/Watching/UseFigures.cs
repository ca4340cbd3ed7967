using EdgeGuard.Core.Thermal;
using EdgeGuard.Records.Ring;

namespace EdgeGuard.Service.Guarding.Watching;

/// <summary>What a unit has been used for, over restarts, at one scan: one set of figures for the ring and for the status.</summary>
internal static class UseFigures
{
    public static ScanRingUse Of(UnitWatch watch)
    {
        DutyCounter duty = watch.Duty;
        StressLedger stress = watch.Stress;
        LegSummary legs = LegSummary.Of(watch.Legs);
        return new ScanRingUse
        {
            SinceUtcMs = watch.SinceUtcMs,
            NoiseElementK = watch.Floors.ElementK,
            NoiseOutletK = watch.Floors.OutletK,
            NoiseFlowKgPerHour = watch.Floors.FlowKgPerHour,
            FirstLegPercent = legs.FirstPercent,
            SecondLegPercent = legs.SecondPercent,
            ThirdLegPercent = legs.ThirdPercent,
            LegReadings = legs.Readings,
            LegPercentPerYear = legs.PercentPerYear,
            LegWarnUtcMs = legs.WarnUtcMs,
            LegWarnEarliestUtcMs = legs.EarliestUtcMs,
            LegWarnLatestUtcMs = legs.LatestUtcMs,
            LossBlocks = watch.Loss.Blocks,
            LossWattsPerK = watch.Loss.Blocks > 0 ? watch.Loss.KwPerK * 1000 : double.NaN,
            EnergyKwh = duty.WattHours / 1000.0,
            PoweredHours = duty.PoweredHours,
            ContactorClosings = duty.ContactorClosings,
            OpeningsUnderPower = duty.OpeningsUnderPower,
            LedCycles = stress.LedCycles,
            ForcedCycles = stress.ForcedCycles,
            DeepestLedK = stress.DeepestLedK,
            DeepestForcedK = stress.DeepestForcedK,
            FastestRiseKPerMin = stress.FastestRiseKPerMin,
            FastestLedFallKPerMin = stress.FastestLedFallKPerMin,
            FastestForcedFallKPerMin = stress.FastestForcedFallKPerMin,
            LedExcessSeconds = stress.LedExcessSeconds,
            ForcedExcessSeconds = stress.ForcedExcessSeconds,
        };
    }
}
