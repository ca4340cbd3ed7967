namespace EdgeGuard.Service.Requests;

/// <summary>An alarm of a unit that stands, that nobody has acknowledged or that is hidden.</summary>
/// <param name="Alarm">"TRIP", or the code of a function.</param>
/// <param name="State">State after ISA-18.2, by name.</param>
/// <param name="Priority">"High", "Medium" or "Low".</param>
public sealed record AlarmReport(string Alarm, string State, string Priority)
{
    /// <summary>The condition stands, whatever is shown of it.</summary>
    public bool Condition { get; init; }

    /// <summary>Time left on the shelf, s; absent unless shelved.</summary>
    public int? ShelfSecondsLeft { get; init; }

    /// <summary>Who shelved it or took it out of service; absent otherwise.</summary>
    public string? HiddenBy { get; init; }

    /// <summary>Why it is hidden: the person's reason, or that of the design; absent otherwise.</summary>
    public string? Reason { get; init; }

    /// <summary>Annunciated three times within the last minute.</summary>
    public bool Chattering { get; init; }

    /// <summary>Shown, and standing for more than a day.</summary>
    public bool Stale { get; init; }

    /// <summary>Annunciations since start.</summary>
    public int Annunciations { get; init; }
}
