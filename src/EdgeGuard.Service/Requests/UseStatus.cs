namespace EdgeGuard.Service.Requests;

/// <summary>What a unit has been used for, over restarts.</summary>
public sealed record UseStatus
{
    /// <summary>UTC since which is counted, ms since 1970-01-01; counters of functions and trips too.</summary>
    public required long SinceUtcMs { get; init; }

    /// <summary>Loss of the energy balance as learnt so far, W/K; absent where nothing was learnt.</summary>
    public double? LossWattsPerK { get; init; }

    /// <summary>Blocks it was learnt from.</summary>
    public int LossBlocks { get; init; }

    /// <summary>Learnt noise of the element sensor, K; 0 where nothing is learnt.</summary>
    public double NoiseElementK { get; init; }

    /// <summary>Learnt noise of the outlet sensor, K; 0 where nothing is learnt.</summary>
    public double NoiseOutletK { get; init; }

    /// <summary>Learnt noise of the flow meter, kg/h; 0 where nothing is learnt.</summary>
    public double NoiseFlowKgPerHour { get; init; }

    /// <summary>Trend of the legs; absent where they are not followed or were never read.</summary>
    public LegStatus? Legs { get; init; }

    /// <summary>Energy, kWh.</summary>
    public required double KilowattHours { get; init; }

    /// <summary>Hours with power.</summary>
    public required double PoweredHours { get; init; }

    /// <summary>Times the contactor was seen to close.</summary>
    public required int ContactorClosings { get; init; }

    /// <summary>Times it opened under power.</summary>
    public required int OpeningsUnderPower { get; init; }

    /// <summary>Thermal cycles of the element whose fall was led.</summary>
    public required int LedCycles { get; init; }

    /// <summary>Thermal cycles that a trip forced.</summary>
    public required int ForcedCycles { get; init; }

    /// <summary>Deepest fall of a led cycle, K.</summary>
    public required double DeepestLedK { get; init; }

    /// <summary>Deepest fall of a forced cycle, K.</summary>
    public required double DeepestForcedK { get; init; }

    /// <summary>Hours by temperature band; bands without any are left out.</summary>
    public IReadOnlyList<BandReport> Bands { get; init; } = [];

    /// <summary>Fastest rise of the element, K/min.</summary>
    public required double FastestRiseKPerMin { get; init; }

    /// <summary>Fastest led fall, K/min.</summary>
    public required double FastestLedFallKPerMin { get; init; }

    /// <summary>Fastest forced fall, K/min.</summary>
    public required double FastestForcedFallKPerMin { get; init; }

    /// <summary>Time of led falls faster than the cap, s.</summary>
    public required double LedExcessSeconds { get; init; }

    /// <summary>Time of forced falls faster than the cap, s.</summary>
    public required double ForcedExcessSeconds { get; init; }
}
