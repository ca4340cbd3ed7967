using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Security;
using EdgeGuard.OpcUa.Sessions;

namespace EdgeGuard.OpcUa.Server;

/// <summary>What a server is and what it allows; fixed while it runs.</summary>
public sealed record UaServerOptions
{
    /// <summary>URI of this instance: the same in endpoints, certificate, ServerArray and NamespaceArray.</summary>
    public required string ApplicationUri { get; init; }

    /// <summary>URI of the product.</summary>
    public string ProductUri { get; init; } = "urn:edgeguard";

    /// <summary>Name shown to people.</summary>
    public required string ApplicationName { get; init; }

    /// <summary>URL told to a client that dialled by a URL that cannot be read.</summary>
    public required string EndpointUrl { get; init; }

    /// <summary>Settings of the secure channels; its policies are those offered.</summary>
    public ServerChannelOptions Channel { get; init; } = new();

    /// <summary>Whether sessions may run over channels without security. Discovery always may.</summary>
    public bool AllowNoneSessions { get; init; }

    /// <summary>Whether messages that are signed but not encrypted are offered.</summary>
    public bool OfferSign { get; init; } = true;

    /// <summary>Whether clients may read without a user.</summary>
    public bool AllowAnonymous { get; init; } = true;

    /// <summary>Judge of user names and user certificates; null offers neither.</summary>
    public IUserAuthority? Users { get; init; }

    /// <summary>Waits after wrong passwords.</summary>
    public LoginThrottleOptions Throttle { get; init; } = new();

    /// <summary>Limits that are announced.</summary>
    public OperationLimits Operations { get; init; } = new();

    /// <summary>Further maxima.</summary>
    public ServerLimits Limits { get; init; } = new();

    /// <summary>Where what happened to connections and sessions is told; null for nowhere.</summary>
    public IServerLog? Log { get; init; }
}
