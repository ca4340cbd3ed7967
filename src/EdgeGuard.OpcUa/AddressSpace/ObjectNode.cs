using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.AddressSpace;

/// <summary>An object: a folder, a unit, an interlock.</summary>
public sealed class ObjectNode : Node
{
    /// <summary>A node without references.</summary>
    public ObjectNode(NodeId nodeId, QualifiedName browseName, LocalizedText displayName)
        : base(nodeId, browseName, displayName)
    {
    }

    /// <inheritdoc/>
    public override NodeClass NodeClass => NodeClass.Object;

    /// <summary>EventNotifier bits: 1 gives events, 4 history of events can be read.</summary>
    public byte EventNotifier { get; init; }
}
