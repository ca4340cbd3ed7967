using EdgeGuard.Core.Signals;
using EdgeGuard.Core.Thermal;
using EdgeGuard.Service.ReactionTimes;

namespace EdgeGuard.Service.Configuration;

/// <summary>Facts of a unit that the core does not need to decide.</summary>
public sealed record UnitOptions
{
    /// <summary>The process gas.</summary>
    public required Gas Gas { get; init; }

    /// <summary>Temperature at which the element is destroyed, °C; NaN when not stated.</summary>
    public required double ElementDestructionC { get; init; }

    /// <summary>Share of the cold mass flow that a blower at fixed speed still moves when hot.</summary>
    public required double HotToColdFlow { get; init; }

    /// <summary>Firing cycle of the power controller, ms.</summary>
    public required int FiringCycleMs { get; init; }

    /// <summary>What is stated about the way from a fault to the removal of power.</summary>
    public required ReactionOptions Reaction { get; init; }

    /// <summary>Reaction time of each function against the process safety time; empty where the data are not stated.</summary>
    public required IReadOnlyList<ReactionBudget> Budgets { get; init; }

    /// <summary>Signals that reach the guard through the unit's controller, so that a fault of it is shared.</summary>
    public required IReadOnlyList<SignalRole> SharedWithControl { get; init; }

    /// <summary>The hardwired device that removes power where the guard cannot (class C); null when not stated.</summary>
    public DatedStatement? HardwiredDevice { get; init; }

    /// <summary>The latest proof test: date and where its record lies; null when none is stated.</summary>
    public DatedStatement? ProofTest { get; init; }

    /// <summary>Reason and expiry of enforcing without a proof test; null when not stated.</summary>
    public DatedStatement? ProofTestWaiver { get; init; }

    /// <summary>Who bridged the cabinet's watchdog contact while the unit only observes, and until when; null when not stated.</summary>
    public DatedStatement? WatchdogBridge { get; init; }
}
