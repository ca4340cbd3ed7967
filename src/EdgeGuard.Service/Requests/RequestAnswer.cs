namespace EdgeGuard.Service.Requests;

/// <summary>The answer to one request: one line of JSON.</summary>
public sealed record RequestAnswer
{
    /// <summary>"accepted", "refused" (by the core), "busy", "denied" (identity), "invalid" (request) or "unavailable".</summary>
    public required string Result { get; init; }

    /// <summary>A sentence for the person.</summary>
    public required string Message { get; init; }

    /// <summary>Identity of the request in the journal; 0 when it never got one.</summary>
    public long Id { get; init; }

    /// <summary>Scan that decided; −1 when none did.</summary>
    public long Scan { get; init; } = -1;

    /// <summary>Name of the reason of a refusal by the core.</summary>
    public string? Reason { get; init; }

    /// <summary>Function that forbids it.</summary>
    public string? Function { get; init; }

    /// <summary>Value of that function; absent when unknown.</summary>
    public double? Value { get; init; }

    /// <summary>Limit of that function.</summary>
    public double? Limit { get; init; }
}
