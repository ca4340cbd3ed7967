using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.SecureChannel;

/// <summary>Settings of the client side of a connection.</summary>
public sealed record ClientChannelOptions : ChannelOptions
{
    /// <summary>URL that is dialled.</summary>
    public required string EndpointUrl { get; init; }

    /// <summary>Policy to use.</summary>
    public SecurityPolicy Policy { get; init; } = SecurityPolicy.None;

    /// <summary>Mode to use; must be None for the policy None.</summary>
    public MessageSecurityMode Mode { get; init; } = MessageSecurityMode.None;

    /// <summary>The server's certificate from GetEndpoints; needed for every policy but None.</summary>
    public byte[]? ServerCertificate { get; init; }

    /// <summary>Token lifetime asked for, milliseconds.</summary>
    public uint TokenLifetimeMs { get; init; } = 600_000;
}
