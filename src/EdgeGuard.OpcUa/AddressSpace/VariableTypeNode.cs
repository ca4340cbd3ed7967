using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.AddressSpace;

/// <summary>A type of variables.</summary>
public sealed class VariableTypeNode : TypeNode
{
    /// <summary>A node without references.</summary>
    public VariableTypeNode(NodeId nodeId, QualifiedName browseName, LocalizedText displayName)
        : base(nodeId, browseName, displayName)
    {
    }

    /// <inheritdoc/>
    public override NodeClass NodeClass => NodeClass.VariableType;

    /// <summary>NodeId of the data type of instances.</summary>
    public NodeId DataType { get; init; }

    /// <summary>ValueRank of instances.</summary>
    public int ValueRank { get; init; } = -1;

    /// <summary>Longest length of each dimension, or null.</summary>
    public uint[]? ArrayDimensions { get; init; }

    /// <summary>Default value; null when there is no such attribute.</summary>
    public Variant Value { get; init; }
}
