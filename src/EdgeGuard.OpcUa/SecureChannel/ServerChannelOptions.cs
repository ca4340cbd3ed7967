namespace EdgeGuard.OpcUa.SecureChannel;

/// <summary>Settings of the server side of connections.</summary>
public sealed record ServerChannelOptions : ChannelOptions
{
    /// <summary>Policies that a channel may use. None is for discovery at least; what it may do is the session's matter.</summary>
    public IReadOnlyList<SecurityPolicy> Policies { get; init; } = [SecurityPolicy.None];

    /// <summary>Shortest token lifetime granted, milliseconds.</summary>
    public uint TokenLifetimeMsMin { get; init; } = 10_000;

    /// <summary>Longest token lifetime granted, and the one for a request of 0, milliseconds.</summary>
    public uint TokenLifetimeMsMax { get; init; } = 3_600_000;
}
