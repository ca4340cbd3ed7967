using EdgeGuard.OpcUa.AddressSpace;

namespace EdgeGuard.Publication.Site;

/// <summary>The variables of one unit that change, by the indices of the core.</summary>
internal sealed class UnitNodes
{
    public required VariableNode State { get; init; }

    public required VariableNode FirstOut { get; init; }

    public required VariableNode Permit { get; init; }

    public required VariableNode PendingDurable { get; init; }

    public required VariableNode RampHeld { get; init; }

    public required VariableNode PowerProvedOff { get; init; }

    public required VariableNode LedSetpoint { get; init; }

    public required VariableNode ElementSlope { get; init; }

    public required VariableNode CoolSlope { get; init; }

    public required VariableNode TripCount { get; init; }

    public required VariableNode LastTrip { get; init; }

    public required VariableNode LastTripClass { get; init; }

    public required VariableNode ResetsTooOften { get; init; }

    public required VariableNode TimeLeft { get; init; }

    public required VariableNode TripAlarm { get; init; }

    /// <summary>Null where the site does not let the alarm of the trip be hidden.</summary>
    public required HiddenNodes? TripHidden { get; init; }

    public required UseNodes Use { get; init; }

    public required VariableNode FunctionsEvaluated { get; init; }

    /// <summary>By signal role; null where the unit has no such signal.</summary>
    public required VariableNode?[] Signals { get; init; }

    /// <summary>By signal role; null where the signal cannot be forced.</summary>
    public required ForceNodes?[] Forces { get; init; }

    /// <summary>By function.</summary>
    public required InterlockNodes?[] Interlocks { get; init; }

    /// <summary>By command role; null where the unit has no such command.</summary>
    public required VariableNode?[] Commands { get; init; }
}
