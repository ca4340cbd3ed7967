using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.AddressSpace;

/// <summary>A type of references.</summary>
public sealed class ReferenceTypeNode : TypeNode
{
    /// <summary>A node without references.</summary>
    public ReferenceTypeNode(NodeId nodeId, QualifiedName browseName, LocalizedText displayName)
        : base(nodeId, browseName, displayName)
    {
    }

    /// <inheritdoc/>
    public override NodeClass NodeClass => NodeClass.ReferenceType;

    /// <summary>Whether it reads the same both ways.</summary>
    public bool Symmetric { get; init; }

    /// <summary>Name read backwards; without a text there is no such attribute.</summary>
    public LocalizedText InverseName { get; init; }
}
