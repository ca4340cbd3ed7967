namespace EdgeGuard.Service.Requests;

/// <summary>Verdict of one function at the latest copied scan.</summary>
/// <param name="Function">Code, e.g. "FLOW".</param>
/// <param name="State">Verdict.</param>
/// <param name="Value">Value judged; absent when not a number.</param>
/// <param name="Limit">Limit in force; absent when not a number.</param>
/// <param name="Unit">Unit of value and limit.</param>
public sealed record FunctionReport(string Function, string State, double? Value, double? Limit, string Unit)
{
    /// <summary>Time until the bypass of the function expires, s; absent when it is not bypassed.</summary>
    public int? BypassSecondsLeft { get; init; }

    /// <summary>Demands, bypassed ones not counted.</summary>
    public int Demands { get; init; }

    /// <summary>Demands while bypassed.</summary>
    public int BypassedDemands { get; init; }

    /// <summary>Demands of real values that a forced one kept from taking effect.</summary>
    public int ForcedDemands { get; init; }

    /// <summary>Trips with this function as first-out.</summary>
    public int Trips { get; init; }

    /// <summary>Trips of this function that a person classified as spurious.</summary>
    public int SpuriousTrips { get; init; }
}
