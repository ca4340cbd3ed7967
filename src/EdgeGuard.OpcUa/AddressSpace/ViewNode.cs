using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.AddressSpace;

/// <summary>A view: a subset of the space; the standard nodeset has none.</summary>
public sealed class ViewNode : Node
{
    /// <summary>A node without references.</summary>
    public ViewNode(NodeId nodeId, QualifiedName browseName, LocalizedText displayName)
        : base(nodeId, browseName, displayName)
    {
    }

    /// <inheritdoc/>
    public override NodeClass NodeClass => NodeClass.View;

    /// <summary>Whether its references make no loops.</summary>
    public bool ContainsNoLoops { get; init; }

    /// <summary>EventNotifier bits.</summary>
    public byte EventNotifier { get; init; }
}
