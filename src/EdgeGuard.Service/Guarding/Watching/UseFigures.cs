using EdgeGuard.Core.Thermal;
using EdgeGuard.Records.Ring;

namespace EdgeGuard.Service.Guarding.Watching;

/// <summary>Copy of what a unit has been used for since start, so that the status reads figures of one scan.</summary>
internal struct UseFigures
{
    public long WattHours;
    public double PoweredHours;
    public int ContactorClosings;
    public int OpeningsUnderPower;
    public int LedCycles;
    public int ForcedCycles;
    public double DeepestLedK;
    public double DeepestForcedK;
    public double FastestRiseKPerMin;
    public double FastestLedFallKPerMin;
    public double FastestForcedFallKPerMin;
    public double LedExcessSeconds;
    public double ForcedExcessSeconds;

    public static UseFigures Of(UnitWatch watch)
    {
        DutyCounter duty = watch.Duty;
        StressLedger stress = watch.Stress;
        return new UseFigures
        {
            WattHours = duty.WattHours,
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

    /// <summary>The same for the ring.</summary>
    public readonly ScanRingUse ForRing() => new()
    {
        EnergyKwh = WattHours / 1000.0,
        PoweredHours = PoweredHours,
        ContactorClosings = ContactorClosings,
        OpeningsUnderPower = OpeningsUnderPower,
        LedCycles = LedCycles,
        ForcedCycles = ForcedCycles,
        DeepestLedK = DeepestLedK,
        DeepestForcedK = DeepestForcedK,
        FastestRiseKPerMin = FastestRiseKPerMin,
        FastestLedFallKPerMin = FastestLedFallKPerMin,
        FastestForcedFallKPerMin = FastestForcedFallKPerMin,
        LedExcessSeconds = LedExcessSeconds,
        ForcedExcessSeconds = ForcedExcessSeconds,
    };
}
