namespace EdgeGuard.Service.Requests;

/// <summary>One request as it comes over the socket: one line of JSON.</summary>
public sealed record RequestMessage
{
    /// <summary>"reset", "start", "stop", "acknowledge", "cool", "bypass", "unbypass", "force", "unforce", "classify", "learn", "shelve", "unshelve", "outofservice", "inservice", "status" or "noted".</summary>
    public required string Kind { get; init; }

    /// <summary>Name of the unit; not for "status" and "noted".</summary>
    public string? Unit { get; init; }

    /// <summary>Why; mandatory but for "status".</summary>
    public string? Reason { get; init; }

    /// <summary>Who asks, as the person signs; the user of the connection stands beside it in the journal. Mandatory for every kind from "bypass" to "inservice".</summary>
    public string? Person { get; init; }

    /// <summary>Code of the function for "bypass", "unbypass" and "learn", e.g. "FLOW".</summary>
    public string? Function { get; init; }

    /// <summary>Name of the alarm for "shelve", "unshelve", "outofservice" and "inservice": the code of its function, e.g. "COOL", or "TRIP".</summary>
    public string? Alarm { get; init; }

    /// <summary>Minutes for "bypass", "force" and "shelve".</summary>
    public int? Minutes { get; init; }

    /// <summary>Name of the signal for "force" and "unforce", as in the register map, e.g. "gasFlow".</summary>
    public string? Signal { get; init; }

    /// <summary>Value for "force", in the unit of the signal (°C, kg/h, A, mA, kΩ).</summary>
    public double? Value { get; init; }

    /// <summary>True for what comes from another machine, as the publisher says of its clients; then a reset is refused unless the site allows it from afar.</summary>
    public bool? Remote { get; init; }

    /// <summary>"genuine" or "spurious" for "classify".</summary>
    public string? Class { get; init; }
}
