using System.Collections.Concurrent;
using System.Diagnostics.CodeAnalysis;

namespace EdgeGuard.OpcUa.AddressSpace;

/// <summary>
/// All nodes of the server. Readers take no lock; nodes and references are added and removed by one thread at a time.
/// Every reference is held by both of its nodes, but for the types of nodes that come and go. Namespace 0 is the standard's, 1 the application's own, 2 the plant's.
/// </summary>
public sealed class NodeSpace
{
    // Numbers of the standard nodeset stay below this; they are found by index.
    private const int StandardCount = 65_536;
    private readonly Node?[] _standard = new Node?[StandardCount];
    private readonly ConcurrentDictionary<NodeId, Node> _others = new();
    private readonly Lock _change = new();
    private int _count;
    private int _changes;

    /// <summary>An empty space.</summary>
    /// <param name="startTime">Time that stands for "since the start" where a value has no source timestamp.</param>
    public NodeSpace(UaDateTime startTime = default)
    {
        StartTime = startTime;
    }

    /// <summary>Time of the start of the server.</summary>
    public UaDateTime StartTime { get; }

    /// <summary>Number of nodes.</summary>
    public int Count => Volatile.Read(in _count);

    /// <summary>Moves whenever a node comes or goes that is not transient, so that whoever keeps what was found knows whether it still holds.</summary>
    internal int Changes => Volatile.Read(in _changes);

    /// <summary>The node, or null.</summary>
    public Node? Find(in NodeId nodeId)
    {
        if (nodeId is { NamespaceIndex: 0, Type: NodeIdType.Numeric, Number: < StandardCount })
        {
            return Volatile.Read(ref _standard[nodeId.Number]);
        }

        return _others.TryGetValue(nodeId, out Node? node) ? node : null;
    }

    /// <summary>The node when it is of the kind wanted.</summary>
    public bool TryFind<T>(in NodeId nodeId, [NotNullWhen(true)] out T? node)
        where T : Node
    {
        node = Find(nodeId) as T;
        return node is not null;
    }

    /// <summary>A node of namespace 0 that must be there.</summary>
    /// <exception cref="InvalidOperationException">The table of the standard lacks it, or it is of another class.</exception>
    public T Standard<T>(uint number)
        where T : Node => Find(new NodeId(number)) as T ?? throw new InvalidOperationException($"the standard nodes have no {typeof(T).Name} i={number}");

    /// <summary>Adds a node without references.</summary>
    /// <exception cref="InvalidOperationException">Its NodeId is taken.</exception>
    public void Add(Node node)
    {
        ArgumentNullException.ThrowIfNull(node);
        lock (_change)
        {
            if (!TryPlace(node))
            {
                throw new InvalidOperationException($"the NodeId {node.NodeId} is taken by {Find(node.NodeId)}; every node needs its own");
            }

            _count++;
            Changed();
        }
    }

    /// <summary>Adds a reference in both directions; one that is there already is left alone.</summary>
    public void AddReference(Node source, ReferenceTypeNode type, Node target)
    {
        ArgumentNullException.ThrowIfNull(source);
        ArgumentNullException.ThrowIfNull(target);
        lock (_change)
        {
            var forward = new Reference(type, true, target);
            var inverse = new Reference(type, false, source);

            // Looked for where there are fewer: a folder may hold thousands.
            bool isThere = source.References.Length < target.References.Length ? source.References.Contains(forward) : target.References.Contains(inverse);
            if (!isThere)
            {
                source.Append(forward);
                target.Append(inverse);
            }
        }
    }

    /// <summary>Removes a node and every reference to it; for nodes that come and go, such as those of sessions.</summary>
    /// <returns>False when it was not in the space.</returns>
    public bool Remove(Node node)
    {
        ArgumentNullException.ThrowIfNull(node);
        lock (_change)
        {
            if (!ReferenceEquals(Find(node.NodeId), node))
            {
                return false;
            }

            foreach (Reference reference in node.References)
            {
                reference.Target.Forget(node);
            }

            Unplace(node);
            _count--;
            Changed();
            return true;
        }
    }

    /// <summary>
    /// Adds transient nodes that have their references already, and tells those that hold them. A type is not told of its
    /// instances: they would be thousands, and a server may leave that direction out (OPC 10000-3, from memory).
    /// </summary>
    /// <exception cref="InvalidOperationException">A NodeId is taken.</exception>
    internal void AddTransient(IReadOnlyCollection<Node> nodes, ReferenceTypeNode type, params ReadOnlySpan<(Node Holder, Node Held)> links)
    {
        lock (_change)
        {
            foreach (Node node in nodes)
            {
                if (!TryPlace(node))
                {
                    throw new InvalidOperationException($"the NodeId {node.NodeId} is taken by {Find(node.NodeId)}; every node needs its own");
                }
            }

            // Linked last: what can be browsed to can be read.
            _count += nodes.Count;
            foreach ((Node holder, Node held) in links)
            {
                holder.Append(new Reference(type, true, held));
            }
        }
    }

    /// <summary>Removes what <see cref="AddTransient"/> added.</summary>
    internal void RemoveTransient(IReadOnlyCollection<Node> nodes, params ReadOnlySpan<(Node Holder, Node Held)> links)
    {
        lock (_change)
        {
            foreach ((Node holder, Node held) in links)
            {
                holder.Forget(held);
            }

            _count -= nodes.Count;
            foreach (Node node in nodes)
            {
                Unplace(node);
                node.ForgetAll();
            }
        }
    }

    /// <summary>Removes every reference between two nodes.</summary>
    internal void RemoveReferences(Node one, Node other)
    {
        lock (_change)
        {
            one.Forget(other);
            other.Forget(one);
        }
    }

    /// <summary>A copy of all nodes at this moment, the standard ones first.</summary>
    public IReadOnlyList<Node> Snapshot()
    {
        List<Node> nodes = new(Count);
        foreach (Node? node in _standard)
        {
            if (node is not null)
            {
                nodes.Add(node);
            }
        }

        nodes.AddRange(_others.Values);
        return nodes;
    }

    /// <summary>The text identifiers of the nodes that are there now, for a decoder that need not allocate them again.</summary>
    public KnownTexts KnownTexts()
    {
        HashSet<string> texts = new(StringComparer.Ordinal);
        foreach (NodeId nodeId in _others.Keys)
        {
            if (nodeId.Text is { } text)
            {
                texts.Add(text);
            }
        }

        return new KnownTexts(texts);
    }

    // Under the lock; it may come round after four thousand million changes.
    private void Changed() => Volatile.Write(ref _changes, unchecked(_changes + 1));

    private bool TryPlace(Node node)
    {
        if (node.NodeId is { NamespaceIndex: 0, Type: NodeIdType.Numeric, Number: < StandardCount and var number })
        {
            return Interlocked.CompareExchange(ref _standard[number], node, null) is null;
        }

        return _others.TryAdd(node.NodeId, node);
    }

    private void Unplace(Node node)
    {
        if (node.NodeId is { NamespaceIndex: 0, Type: NodeIdType.Numeric, Number: < StandardCount and var number })
        {
            Volatile.Write(ref _standard[number], null);
            return;
        }

        _others.TryRemove(node.NodeId, out _);
    }
}
