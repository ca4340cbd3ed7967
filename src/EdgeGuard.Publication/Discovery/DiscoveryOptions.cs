using EdgeGuard.OpcUa.SecureChannel;

namespace EdgeGuard.Publication.Discovery;

/// <summary>Who is registered, and where.</summary>
internal sealed record DiscoveryOptions
{
    /// <summary>URL of the discovery server, opc.tcp.</summary>
    public required Uri Server { get; init; }

    /// <summary>Time between two registrations while all is well, ms.</summary>
    public required int EveryMs { get; init; }

    /// <summary>Time for each of the two connections of a registration, ms.</summary>
    public int LimitMs { get; init; } = 5_000;

    /// <summary>Wait after the first failure, ms; doubled with each further one, up to <see cref="EveryMs"/>.</summary>
    public int RetryMs { get; init; } = 1_000;

    /// <summary>URL under which clients find this server.</summary>
    public required string OwnUrl { get; init; }

    /// <summary>Application URI of this server.</summary>
    public required string ApplicationUri { get; init; }

    /// <summary>Product URI of this server.</summary>
    public required string ProductUri { get; init; }

    /// <summary>Name for people.</summary>
    public required string ApplicationName { get; init; }

    /// <summary>Certificate and key of this server.</summary>
    public required ApplicationInstance Instance { get; init; }

    /// <summary>Judge of the discovery server's certificate.</summary>
    public required ICertificateJudge Judge { get; init; }
}
