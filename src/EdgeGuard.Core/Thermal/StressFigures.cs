namespace EdgeGuard.Core.Thermal;

/// <summary>
/// All that a <see cref="StressLedger"/> has seen, its hours by band excepted, so that it outlives a run; with the cycle
/// under way, since a fall and the rise that ends it may lie in two runs.
/// </summary>
public struct StressFigures
{
    /// <summary>Cycles whose fall was led.</summary>
    public int LedCycles;

    /// <summary>Cycles whose fall was forced by a trip.</summary>
    public int ForcedCycles;

    /// <summary>Deepest fall of a led cycle, K.</summary>
    public double DeepestLedK;

    /// <summary>Deepest fall of a forced cycle, K.</summary>
    public double DeepestForcedK;

    /// <summary>Fastest rise, K/min.</summary>
    public double FastestRiseKPerMin;

    /// <summary>Fastest led fall, K/min.</summary>
    public double FastestLedFallKPerMin;

    /// <summary>Fastest forced fall, K/min.</summary>
    public double FastestForcedFallKPerMin;

    /// <summary>Time of led falls faster than the cap, ms.</summary>
    public long LedExcessMs;

    /// <summary>Time of forced falls faster than the cap, ms.</summary>
    public long ForcedExcessMs;

    /// <summary>Time in which the element was not known, ms.</summary>
    public long UnknownMs;

    /// <summary>Peak before the fall under way, °C; NaN before the first good value.</summary>
    public double PeakC;

    /// <summary>Lowest point of it, °C; NaN while there was none.</summary>
    public double ValleyC;

    /// <summary>The fall under way is deep enough to be a cycle.</summary>
    public bool Falling;

    /// <summary>Who made it fall.</summary>
    public StressCause Cause;
}
