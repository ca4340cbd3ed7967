namespace EdgeGuard.Records.Ring;

/// <summary>What a unit has been used for since <see cref="SinceUtcMs"/>, and what was learnt of it. Each figure is whole, the set is not a snapshot.</summary>
public struct ScanRingUse
{
    /// <summary>Energy, kWh.</summary>
    public double EnergyKwh;

    /// <summary>Hours with power.</summary>
    public double PoweredHours;

    /// <summary>Times the contactor was seen to close.</summary>
    public double ContactorClosings;

    /// <summary>Times it opened under power.</summary>
    public double OpeningsUnderPower;

    /// <summary>Thermal cycles of the element whose fall was led.</summary>
    public double LedCycles;

    /// <summary>Thermal cycles that a trip forced.</summary>
    public double ForcedCycles;

    /// <summary>Deepest fall of a led cycle, K.</summary>
    public double DeepestLedK;

    /// <summary>Deepest fall of a forced cycle, K.</summary>
    public double DeepestForcedK;

    /// <summary>Fastest rise of the element, K/min.</summary>
    public double FastestRiseKPerMin;

    /// <summary>Fastest led fall, K/min.</summary>
    public double FastestLedFallKPerMin;

    /// <summary>Fastest forced fall, K/min.</summary>
    public double FastestForcedFallKPerMin;

    /// <summary>Time of led falls faster than the cap, s.</summary>
    public double LedExcessSeconds;

    /// <summary>Time of forced falls faster than the cap, s.</summary>
    public double ForcedExcessSeconds;

    /// <summary>UTC since which is counted, over restarts, ms since 1970-01-01.</summary>
    public double SinceUtcMs;

    /// <summary>Loss of the energy balance as learnt so far, W/K; NaN where nothing was learnt.</summary>
    public double LossWattsPerK;

    /// <summary>Blocks it was learnt from.</summary>
    public double LossBlocks;

    /// <summary>Learnt noise of the element sensor, standard deviation of a reading, K; 0 where nothing is learnt.</summary>
    public double NoiseElementK;

    /// <summary>The same of the outlet, K.</summary>
    public double NoiseOutletK;

    /// <summary>The same of the flow, kg/h.</summary>
    public double NoiseFlowKgPerHour;

    /// <summary>Deviation of the first leg from its first reading, at 20 °C, per cent; NaN before one.</summary>
    public double FirstLegPercent;

    /// <summary>The same of the second leg, per cent.</summary>
    public double SecondLegPercent;

    /// <summary>The same of the third leg, per cent.</summary>
    public double ThirdLegPercent;

    /// <summary>Readings of the legs, one a day at most.</summary>
    public double LegReadings;

    /// <summary>Slope of the leg that rises fastest, per cent a year; NaN with fewer than two readings.</summary>
    public double LegPercentPerYear;

    /// <summary>When that leg is expected 10 per cent up, UTC ms; NaN before 90 days or 10 cycles, and while it could as well not rise.</summary>
    public double LegWarnUtcMs;

    /// <summary>Earliest such time by the range of the slope, UTC ms.</summary>
    public double LegWarnEarliestUtcMs;

    /// <summary>Latest such time, UTC ms.</summary>
    public double LegWarnLatestUtcMs;
}
