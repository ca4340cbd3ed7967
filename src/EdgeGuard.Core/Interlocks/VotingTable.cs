using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>Redundant sensors of one role: element temperature, outlet temperature or gas flow.</summary>
public sealed record VotingTable
{
    /// <summary>The role; its further sensors are those of <see cref="SignalRoles.Sensor"/>.</summary>
    public required SignalRole Role { get; init; }

    /// <summary>The vote.</summary>
    public required VotingScheme Scheme { get; init; }

    /// <summary>Good sensors may differ by this, unit of the role; beyond it is an alarm.</summary>
    public required double DeviationMax { get; init; }

    /// <summary>For how long they must differ, ms.</summary>
    public required int DeviationDelayMs { get; init; }

    /// <summary>
    /// Longest time with a sensor lost before a controlled shutdown, ms, from when it counts as lost. For
    /// <see cref="VotingScheme.OneOutOfTwo"/> usually 0: with one of two lost nothing is redundant any more.
    /// </summary>
    public required int DegradedMs { get; init; }
}
