namespace EdgeGuard.OpcUa.AddressSpace;

/// <summary>
/// Limits that are announced under ServerCapabilities and obeyed: more operations in one request are answered with
/// BadTooManyOperations. 0 stands for no limit of our own.
/// </summary>
public sealed record OperationLimits
{
    /// <summary>Nodes in one Read.</summary>
    public uint NodesPerRead { get; init; } = 10_000;

    /// <summary>Nodes in one Write.</summary>
    public uint NodesPerWrite { get; init; } = 1_000;

    /// <summary>Calls in one Call.</summary>
    public uint NodesPerMethodCall { get; init; } = 100;

    /// <summary>Nodes in one Browse, continuation points in one BrowseNext.</summary>
    public uint NodesPerBrowse { get; init; } = 2_000;

    /// <summary>Nodes in one RegisterNodes or UnregisterNodes.</summary>
    public uint NodesPerRegisterNodes { get; init; } = 10_000;

    /// <summary>Paths in one TranslateBrowsePathsToNodeIds.</summary>
    public uint NodesPerTranslateBrowsePaths { get; init; } = 2_000;

    /// <summary>Items in one service of monitored items.</summary>
    public uint MonitoredItemsPerCall { get; init; } = 10_000;

    /// <summary>Nodes in one HistoryRead of data.</summary>
    public uint NodesPerHistoryReadData { get; init; } = 100;

    /// <summary>Nodes in one HistoryRead of events.</summary>
    public uint NodesPerHistoryReadEvents { get; init; } = 10;

    /// <summary>References of one node in one answer, whatever the client asks for.</summary>
    public uint ReferencesPerNode { get; init; } = 1_000;

    /// <summary>Continuation points of Browse a session may hold at once.</summary>
    public ushort BrowseContinuationPoints { get; init; } = 10;

    /// <summary>Longest array in a request, in elements.</summary>
    public uint ArrayLength { get; init; } = 65_536;

    /// <summary>Longest string in a request, in bytes of UTF-8.</summary>
    public uint StringLengthBytes { get; init; } = 65_536;

    /// <summary>Longest ByteString in a request, in bytes.</summary>
    public uint ByteStringLengthBytes { get; init; } = 1_048_576;

    /// <summary>Shortest sampling interval, in milliseconds.</summary>
    public double SamplingIntervalMinMs { get; init; } = 50;

    /// <summary>Sessions at once.</summary>
    public uint Sessions { get; init; } = 100;

    /// <summary>Subscriptions of all sessions.</summary>
    public uint Subscriptions { get; init; } = 500;

    /// <summary>Subscriptions of one session.</summary>
    public uint SubscriptionsPerSession { get; init; } = 20;

    /// <summary>Monitored items of all sessions.</summary>
    public uint MonitoredItems { get; init; } = 200_000;

    /// <summary>Monitored items of one subscription.</summary>
    public uint MonitoredItemsPerSubscription { get; init; } = 20_000;

    /// <summary>Longest queue of a monitored item.</summary>
    public uint MonitoredItemQueueSize { get; init; } = 1_000;

    /// <summary>The answer to a number of operations: Good, BadNothingToDo or BadTooManyOperations.</summary>
    public static StatusCode Judge(int? operations, uint limit) => operations switch
    {
        null or 0 => StatusCode.BadNothingToDo,
        _ when limit != 0 && (uint)operations.Value > limit => StatusCode.BadTooManyOperations,
        _ => StatusCode.Good,
    };
}
