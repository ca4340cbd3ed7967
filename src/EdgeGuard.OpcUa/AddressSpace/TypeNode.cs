namespace EdgeGuard.OpcUa.AddressSpace;

/// <summary>A node that others are derived from by HasSubtype.</summary>
public abstract class TypeNode : Node
{
    private protected TypeNode(NodeId nodeId, QualifiedName browseName, LocalizedText displayName)
        : base(nodeId, browseName, displayName)
    {
    }

    /// <summary>Whether it has no instances of its own.</summary>
    public bool IsAbstract { get; init; }

    /// <summary>The type this one is derived from; null at the root.</summary>
    public TypeNode? SuperType { get; private set; }

    /// <summary>Whether this is <paramref name="type"/> or derived from it.</summary>
    public bool IsOrDerivesFrom(Node type)
    {
        for (TypeNode? current = this; current is not null; current = current.SuperType)
        {
            if (ReferenceEquals(current, type))
            {
                return true;
            }
        }

        return false;
    }

    private protected override void Note(in Reference reference)
    {
        base.Note(reference);
        if (!reference.IsForward && reference.Type.NodeId.IsStandard(StandardIds.HasSubtype))
        {
            SuperType ??= reference.Target as TypeNode;
        }
    }
}
