namespace EdgeGuard.Core.Interlocks;

/// <summary>Settings of forcing: which signals a person may force, within which values and for how long. By default none.</summary>
public sealed record ForceTable
{
    /// <summary>Signals of one unit that can be forced at the same time. Engineering choice: a unit that is simulated to a greater part is not supervised.</summary>
    public const int SignalsMax = 4;

    /// <summary>Signals that may be forced.</summary>
    public IReadOnlyList<ForcibleSignal> Signals { get; init; } = [];

    /// <summary>Longest time of one force, minutes.</summary>
    public int MaxMinutes { get; init; } = 30;

    /// <summary>The unit may be started while a signal is forced; off unless configured.</summary>
    public bool StartWhileForced { get; init; }
}
