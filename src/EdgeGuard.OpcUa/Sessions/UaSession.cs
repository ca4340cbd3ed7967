using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Server;
using EdgeGuard.OpcUa.Services;
using EdgeGuard.OpcUa.Subscriptions;

namespace EdgeGuard.OpcUa.Sessions;

/// <summary>
/// One session. It outlives its connection: a client that lost its socket comes back on a new channel with
/// ActivateSession. All changes are made under the server's gate; only <see cref="LastUseMs"/> is written outside it.
/// </summary>
internal sealed class UaSession
{
    private long _lastUseMs;

    public required NodeId SessionId { get; init; }

    public required NodeId Token { get; init; }

    public required string Name { get; init; }

    /// <summary>Address it was made from; counts against its quota.</summary>
    public required string Address { get; init; }

    public required string ClientUri { get; init; }

    /// <summary>Certificate of the client (first of the chain), empty over None.</summary>
    public required byte[] ClientCertificate { get; init; }

    /// <summary>What the client said of itself when it made the session, cut to a bound.</summary>
    public required ApplicationDescription Client { get; init; }

    /// <summary>Server and URL the client asked for, cut to a bound.</summary>
    public required (string ServerUri, string EndpointUrl) Asked { get; init; }

    public required double TimeoutMs { get; init; }

    public required long CreatedMs { get; init; }

    public required UaDateTime CreatedUtc { get; init; }

    /// <summary>Largest answer the client takes, bytes; 0 for none stated.</summary>
    public required uint ResponseBytesMax { get; init; }

    /// <summary>Last nonce given; each ActivateSession gets a fresh one.</summary>
    public required byte[] ServerNonce { get; set; }

    /// <summary>The connection whose channel the session is bound to; null after it was lost.</summary>
    public UaServerPeer? Peer { get; set; }

    public SecurityPolicy Policy { get; set; } = SecurityPolicy.None;

    public MessageSecurityMode Mode { get; set; }

    /// <summary>Names of the users before this one, the newest last; bounded.</summary>
    public Queue<string> FormerUsers { get; } = new();

    /// <summary>Requests by service, for the diagnostics.</summary>
    public SessionTally Tally { get; } = new();

    /// <summary>What clients find of it in the space; null before it was added.</summary>
    public SessionNodes? Nodes { get; set; }

    public UserIdentity Identity { get; set; } = UserIdentity.Anonymous;

    /// <summary>The user as services see him; replaced as a whole at each activation.</summary>
    public CallerContext Caller { get; set; } = new();

    public bool Activated { get; set; }

    public bool Closed { get; set; }

    public string?[] Locales { get; set; } = [];

    public List<UaSubscription> Subscriptions { get; } = [];

    /// <summary>Continuation points of Browse.</summary>
    public required BrowsePointStore Browsing { get; init; }

    public PublishQueue Publishing { get; } = new();

    /// <summary>Monitored items over all subscriptions.</summary>
    public int ItemCount { get; set; }

    /// <summary>Values all queues together may hold.</summary>
    public int QueuedValues { get; set; }

    public long LastUseMs => Volatile.Read(ref _lastUseMs);

    /// <summary>When it ends unless it is used.</summary>
    public long EndMs(int activateMsMax) => Activated ? LastUseMs + (long)TimeoutMs : CreatedMs + activateMsMax;

    public void Use(long nowMs) => Volatile.Write(ref _lastUseMs, nowMs);
}
