using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.AddressSpace;

/// <summary>A type of objects or events.</summary>
public sealed class ObjectTypeNode : TypeNode
{
    /// <summary>A node without references.</summary>
    public ObjectTypeNode(NodeId nodeId, QualifiedName browseName, LocalizedText displayName)
        : base(nodeId, browseName, displayName)
    {
    }

    /// <inheritdoc/>
    public override NodeClass NodeClass => NodeClass.ObjectType;
}
