using EdgeGuard.OpcUa.Server;

namespace EdgeGuard.OpcUa.Subscriptions;

/// <summary>A Publish request that waits.</summary>
/// <param name="Peer">Connection it came over.</param>
/// <param name="RequestId">Request of the channel.</param>
/// <param name="RequestHandle">Handle of the client.</param>
/// <param name="EndMs">When its TimeoutHint has passed, monotonic milliseconds.</param>
/// <param name="Results">Results of the acknowledgements it carried.</param>
internal readonly record struct PendingPublish(UaServerPeer Peer, uint RequestId, uint RequestHandle, long EndMs, StatusCode[] Results);
