namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// What a unit brings along from the runs before: an input at the start, recorded like every other input, so that the
/// core needs no file and a replay begins where the run began. Nothing in it gives a permit: a unit always starts tripped.
/// </summary>
public sealed record KeptFigures
{
    /// <summary>No counter is taken over beyond this, so that none can run over within a life of the plant.</summary>
    public const int CountMax = 1_000_000_000;

    /// <summary>Counters by <see cref="FunctionId"/>; what is missing at the end counts from zero.</summary>
    public IReadOnlyList<FunctionCounts> Counts { get; init; } = [];

    /// <summary>Trips, 0 to <see cref="CountMax"/>.</summary>
    public int TripCount { get; init; }

    /// <summary>Function of the latest trip, power-on excepted; None when there was none.</summary>
    public FunctionId LastTrip { get; init; }

    /// <summary>What a person found it to have been.</summary>
    public TripClass LastTripClass { get; init; }

    /// <summary>Loss of the energy balance as far as it was learnt.</summary>
    public Thermal.LearntLoss Loss { get; init; }

    /// <summary>Trend of the earth leakage.</summary>
    public LeakFigures Leakage { get; init; }

    /// <summary>Trend of the insulation, as conductance.</summary>
    public LeakFigures Insulation { get; init; }

    /// <summary>Noise of the sensors as learnt.</summary>
    public LearntFloors Floors { get; init; }
}
