using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.AddressSpace;

/// <summary>A type of values.</summary>
public sealed class DataTypeNode : TypeNode
{
    /// <summary>A node without references.</summary>
    public DataTypeNode(NodeId nodeId, QualifiedName browseName, LocalizedText displayName)
        : base(nodeId, browseName, displayName)
    {
    }

    /// <inheritdoc/>
    public override NodeClass NodeClass => NodeClass.DataType;

    /// <summary>A StructureDefinition or EnumDefinition; null for types that have none.</summary>
    public ExtensionObject? Definition { get; init; }
}
