namespace EdgeGuard.OpcUa;

/// <summary>A NodeId that may name its namespace by URI and may belong to another server (OPC 10000-4).</summary>
/// <param name="NodeId">The identifier; its namespace index is 0 when <paramref name="NamespaceUri"/> is set.</param>
/// <param name="NamespaceUri">URI of the namespace, or null to use the index.</param>
/// <param name="ServerIndex">Index into the ServerArray; 0 is this server.</param>
public readonly record struct ExpandedNodeId(NodeId NodeId, string? NamespaceUri = null, uint ServerIndex = 0)
{
    /// <summary>A node of this server.</summary>
    public static implicit operator ExpandedNodeId(NodeId nodeId) => new(nodeId);

    /// <summary>The same as the conversion operator.</summary>
    public static ExpandedNodeId FromNodeId(NodeId nodeId) => new(nodeId);

    /// <summary>Whether this is a node of this server, named by index.</summary>
    public bool IsLocal => ServerIndex == 0 && string.IsNullOrEmpty(NamespaceUri);
}
