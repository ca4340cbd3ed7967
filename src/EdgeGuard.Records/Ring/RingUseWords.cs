namespace EdgeGuard.Records.Ring;

/// <summary>What a unit was used for, as words of the ring.</summary>
internal static class RingUseWords
{
    public static void Write(RingMap map, long at, in ScanRingUse use)
    {
        Set(map, at + 0, use.EnergyKwh);
        Set(map, at + 8, use.PoweredHours);
        Set(map, at + 16, use.ContactorClosings);
        Set(map, at + 24, use.OpeningsUnderPower);
        Set(map, at + 32, use.LedCycles);
        Set(map, at + 40, use.ForcedCycles);
        Set(map, at + 48, use.DeepestLedK);
        Set(map, at + 56, use.DeepestForcedK);
        Set(map, at + 64, use.FastestRiseKPerMin);
        Set(map, at + 72, use.FastestLedFallKPerMin);
        Set(map, at + 80, use.FastestForcedFallKPerMin);
        Set(map, at + 88, use.LedExcessSeconds);
        Set(map, at + 96, use.ForcedExcessSeconds);
        Set(map, at + 104, use.SinceUtcMs);
        Set(map, at + 112, use.LossWattsPerK);
        Set(map, at + 120, use.LossBlocks);
        WriteLearnt(map, at, use);
    }

    private static void WriteLearnt(RingMap map, long at, in ScanRingUse use)
    {
        Set(map, at + 128, use.NoiseElementK);
        Set(map, at + 136, use.NoiseOutletK);
        Set(map, at + 144, use.NoiseFlowKgPerHour);
        Set(map, at + 152, use.FirstLegPercent);
        Set(map, at + 160, use.SecondLegPercent);
        Set(map, at + 168, use.ThirdLegPercent);
        Set(map, at + 176, use.LegReadings);
        Set(map, at + 184, use.LegPercentPerYear);
        Set(map, at + 192, use.LegWarnUtcMs);
        Set(map, at + 200, use.LegWarnEarliestUtcMs);
        Set(map, at + 208, use.LegWarnLatestUtcMs);
    }

    public static ScanRingUse Read(RingMap map, long at) => new()
    {
        EnergyKwh = Get(map, at + 0),
        PoweredHours = Get(map, at + 8),
        ContactorClosings = Get(map, at + 16),
        OpeningsUnderPower = Get(map, at + 24),
        LedCycles = Get(map, at + 32),
        ForcedCycles = Get(map, at + 40),
        DeepestLedK = Get(map, at + 48),
        DeepestForcedK = Get(map, at + 56),
        FastestRiseKPerMin = Get(map, at + 64),
        FastestLedFallKPerMin = Get(map, at + 72),
        FastestForcedFallKPerMin = Get(map, at + 80),
        LedExcessSeconds = Get(map, at + 88),
        ForcedExcessSeconds = Get(map, at + 96),
        SinceUtcMs = Get(map, at + 104),
        LossWattsPerK = Get(map, at + 112),
        LossBlocks = Get(map, at + 120),
        NoiseElementK = Get(map, at + 128),
        NoiseOutletK = Get(map, at + 136),
        NoiseFlowKgPerHour = Get(map, at + 144),
        FirstLegPercent = Get(map, at + 152),
        SecondLegPercent = Get(map, at + 160),
        ThirdLegPercent = Get(map, at + 168),
        LegReadings = Get(map, at + 176),
        LegPercentPerYear = Get(map, at + 184),
        LegWarnUtcMs = Get(map, at + 192),
        LegWarnEarliestUtcMs = Get(map, at + 200),
        LegWarnLatestUtcMs = Get(map, at + 208),
    };

    /// <summary>Hours of a temperature band of the element.</summary>
    public static void WriteBand(RingMap map, long at, int band, double hours) => Set(map, at + RingLayout.UseBandsAt + (band * sizeof(double)), hours);

    /// <summary>Hours of a temperature band of the element.</summary>
    public static double ReadBand(RingMap map, long at, int band) => Get(map, at + RingLayout.UseBandsAt + (band * sizeof(double)));

    private static void Set(RingMap map, long at, double value) => Volatile.Write(ref map.Word(at), BitConverter.DoubleToInt64Bits(value));

    private static double Get(RingMap map, long at) => BitConverter.Int64BitsToDouble(Volatile.Read(ref map.Word(at)));
}
