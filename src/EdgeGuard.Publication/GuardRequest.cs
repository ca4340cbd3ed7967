namespace EdgeGuard.Publication;

/// <summary>A request of a person to the guard.</summary>
/// <param name="Kind">"acknowledge", "reset", "start", "stop", "cool", "bypass", "unbypass", "force", "unforce", "classify", "learn", "shelve", "unshelve", "outofservice" or "inservice".</param>
/// <param name="Unit">Name of the unit.</param>
/// <param name="Person">Who asks, for the journal.</param>
/// <param name="Reason">Why.</param>
public sealed record GuardRequest(string Kind, string Unit, string Person, string Reason)
{
    /// <summary>Code of the function for "bypass", "unbypass" and "learn", else null.</summary>
    public string? Function { get; init; }

    /// <summary>Name of the signal for "force" and "unforce", else null.</summary>
    public string? Signal { get; init; }

    /// <summary>Value for "force" in the unit of the signal, else null.</summary>
    public double? Value { get; init; }

    /// <summary>Name of the alarm for "shelve", "unshelve", "outofservice" and "inservice", else null.</summary>
    public string? Alarm { get; init; }

    /// <summary>Minutes for "bypass", "force" and "shelve", else null.</summary>
    public int? Minutes { get; init; }

    /// <summary>"genuine" or "spurious" for "classify", else null.</summary>
    public string? Class { get; init; }
}
