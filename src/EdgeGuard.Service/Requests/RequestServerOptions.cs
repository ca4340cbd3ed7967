namespace EdgeGuard.Service.Requests;

/// <summary>Settings of the request socket.</summary>
public sealed record RequestServerOptions
{
    /// <summary>Full path of the socket.</summary>
    public required string SocketPath { get; init; }

    /// <summary>Group whose members may ask besides the guard's own user and root; null for none.</summary>
    public string? Group { get; init; }

    /// <summary>Names of the units in the order of the site.</summary>
    public required IReadOnlyList<string> Units { get; init; }

    /// <summary>Time in which a client must have sent its line, ms.</summary>
    public int ReceiveLimitMs { get; init; } = RequestLimits.ReceiveLimitMs;

    /// <summary>Time in which the scan must have decided, ms.</summary>
    public int DecisionLimitMs { get; init; } = RequestLimits.DecisionLimitMs;
}
