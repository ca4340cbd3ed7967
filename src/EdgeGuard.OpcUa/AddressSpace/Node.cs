using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.AddressSpace;

/// <summary>
/// A node of the address space (OPC 10000-3). Attributes are fixed when it is made; references may be added later by one
/// thread at a time while others read, because readers see a list that never changes.
/// </summary>
public abstract class Node
{
    private volatile ReferenceList _references = ReferenceList.Empty;

    private protected Node(NodeId nodeId, QualifiedName browseName, LocalizedText displayName)
    {
        (NodeId, BrowseName, DisplayName) = (nodeId, browseName, displayName);
    }

    /// <summary>Identifier, the same after every start.</summary>
    public NodeId NodeId { get; }

    /// <summary>Name for paths.</summary>
    public QualifiedName BrowseName { get; }

    /// <summary>Name for people, in English.</summary>
    public LocalizedText DisplayName { get; }

    /// <summary>Explanation for people; without a text there is no such attribute.</summary>
    public LocalizedText Description { get; init; }

    /// <summary>
    /// Whether it comes and goes while the server runs, as the nodes of a session do. Nothing that is kept beyond a request
    /// rests on such a node, so that the others need not be looked up again whenever one comes or goes.
    /// </summary>
    internal bool IsTransient { get; init; }

    /// <summary>Class of the node.</summary>
    public abstract NodeClass NodeClass { get; }

    /// <summary>References in both directions, in the order they were made; safe while others are added.</summary>
    public ReadOnlySpan<Reference> References => _references.Items;

    internal ReferenceList ReferenceList => _references;

    /// <summary>Target of the first HasTypeDefinition reference, or null.</summary>
    public Node? TypeDefinition { get; private set; }

    /// <inheritdoc/>
    public override string ToString() => $"{NodeId} {BrowseName.Name}";

    internal void SetReferences(Reference[] references)
    {
        _references = new ReferenceList(references, references.Length);
        foreach (Reference reference in references)
        {
            Note(reference);
        }
    }

    internal void Append(in Reference reference)
    {
        Note(reference);
        _references = _references.Append(reference);
    }

    internal void Forget(Node target) => _references = _references.Without(target);

    /// <summary>It has left the space: whoever still holds it holds nothing else by it.</summary>
    internal virtual void ForgetAll() => _references = ReferenceList.Empty;

    private protected virtual void Note(in Reference reference)
    {
        if (reference.IsForward && reference.Type.NodeId.IsStandard(StandardIds.HasTypeDefinition))
        {
            TypeDefinition ??= reference.Target;
        }
    }
}
