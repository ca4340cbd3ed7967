namespace EdgeGuard.Service.Requests;

/// <summary>State of one unit at the latest copied scan.</summary>
public sealed record UnitStatus
{
    /// <summary>Name of the unit.</summary>
    public required string Name { get; init; }

    /// <summary>"Observe" or "Enforce".</summary>
    public required string Mode { get; init; }

    /// <summary>State, a name of the unit states.</summary>
    public required string State { get; init; }

    /// <summary>Code of the first cause of the latched trip; absent when not tripped.</summary>
    public string? FirstOut { get; init; }

    /// <summary>True while power is permitted.</summary>
    public required bool Permit { get; init; }

    /// <summary>A permit waits for its event to become durable.</summary>
    public required bool PendingDurable { get; init; }

    /// <summary>Power is proved off.</summary>
    public required bool PowerProvedOff { get; init; }

    /// <summary>The ramp is held for the shared supply.</summary>
    public required bool RampHeld { get; init; }

    /// <summary>Setpoint led by the guard, °C.</summary>
    public double? LedSetpointC { get; init; }

    /// <summary>Slope of the element, K/min.</summary>
    public double? ElementSlopeKPerMin { get; init; }

    /// <summary>Slope of the signal of COOL, K/min.</summary>
    public double? CoolSlopeKPerMin { get; init; }

    /// <summary>Trips since the time in <see cref="Use"/>.</summary>
    public required int TripCount { get; init; }

    /// <summary>Code of the function of the latest trip; absent when none is known.</summary>
    public string? LastTrip { get; init; }

    /// <summary>What a person found the latest trip to have been: "Unknown", "Genuine" or "Spurious"; absent without a trip.</summary>
    public string? LastTripClass { get; init; }

    /// <summary>Resets came more often within an hour than the site allows.</summary>
    public bool ResetsTooOften { get; init; }

    /// <summary>Time until a led ramp or cool-down reaches its end, s; absent where nothing is led.</summary>
    public double? SecondsLeft { get; init; }

    /// <summary>Place among the units that wait for the shared supply, in the order of their start, 1 next; absent where it does not wait.</summary>
    public int? SupplyPlace { get; init; }

    /// <summary>Time until the setpoint is reached, waiting included, s, at the earliest; absent where the unit is not on its way, or would never arrive.</summary>
    public double? SecondsUntilHot { get; init; }

    /// <summary>Alarms that stand or that nobody has acknowledged.</summary>
    public IReadOnlyList<AlarmReport> Alarms { get; init; } = [];

    /// <summary>What the unit has been used for.</summary>
    public UseStatus? Use { get; init; }

    /// <summary>Signals that may be forced, with their ranges and the longest time; absent when none may be.</summary>
    public string? Forcible { get; init; }

    /// <summary>Configured signals.</summary>
    public required IReadOnlyList<SignalStatus> Signals { get; init; }

    /// <summary>Functions that are not idle, bypassed or have counted something.</summary>
    public required IReadOnlyList<FunctionReport> Functions { get; init; }
}
