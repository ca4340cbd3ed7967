namespace EdgeGuard.OpcUa.Server;

/// <summary>
/// Maxima that are not announced to clients (those are in <see cref="AddressSpace.OperationLimits"/>). Every queue and
/// table that a client can make grow has its bound in one of the two.
/// </summary>
public sealed record ServerLimits
{
    /// <summary>Connections at one time, half-open ones included.</summary>
    public int ConnectionsMax { get; init; } = 400;

    /// <summary>Connections at one time that have no session yet; the oldest gives way to a new one.</summary>
    public int HalfOpenConnectionsMax { get; init; } = 150;

    /// <summary>A connection without an active session ends after this time, ms.</summary>
    public int HalfOpenMsMax { get; init; } = 60_000;

    /// <summary>Sessions at one time from one address, so that one machine cannot take all places.</summary>
    public int SessionsPerAddressMax { get; init; } = 75;

    /// <summary>Shortest session time-out granted, ms.</summary>
    public double SessionTimeoutMsMin { get; init; } = 10_000;

    /// <summary>Longest session time-out granted, ms.</summary>
    public double SessionTimeoutMsMax { get; init; } = 3_600_000;

    /// <summary>A session that was created and not activated ends after this time, ms.</summary>
    public int ActivateMsMax { get; init; } = 30_000;

    /// <summary>Longest session name kept, characters.</summary>
    public int SessionNameCharactersMax { get; init; } = 256;

    /// <summary>Monitored items of one session, over all its subscriptions.</summary>
    public int ItemsPerSessionMax { get; init; } = 20_000;

    /// <summary>Values that the queues of one session may hold together.</summary>
    public int QueuedValuesPerSessionMax { get; init; } = 200_000;

    /// <summary>Values that all queues of the server may hold together.</summary>
    public int QueuedValuesMax { get; init; } = 2_000_000;

    /// <summary>Publish requests waiting in one session.</summary>
    public int PublishRequestsPerSessionMax { get; init; } = 20;

    /// <summary>Messages kept for Republish in one subscription.</summary>
    public int RetransmissionsMax { get; init; } = 20;

    /// <summary>Bytes kept for Republish in one subscription.</summary>
    public int RetransmissionBytesMax { get; init; } = 4_194_304;

    /// <summary>Notifications in one message when the client sets no bound.</summary>
    public int NotificationsPerPublishMax { get; init; } = 10_000;

    /// <summary>Bytes that may wait to be sent on all connections together; beyond it the slowest client is cut off.</summary>
    public long OutputBytesMax { get; init; } = 67_108_864;

    /// <summary>Triggering links of one item.</summary>
    public int TriggerLinksMax { get; init; } = 1000;

    /// <summary>Shortest publishing interval, ms.</summary>
    public double PublishingIntervalMsMin { get; init; } = 50;

    /// <summary>Longest publishing interval, ms.</summary>
    public double PublishingIntervalMsMax { get; init; } = 3_600_000;

    /// <summary>Longest sampling interval, ms.</summary>
    public double SamplingIntervalMsMax { get; init; } = 3_600_000;

    /// <summary>Largest keep-alive count.</summary>
    public uint KeepAliveCountMax { get; init; } = 24_000;
}
