using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.Server;

/// <summary>
/// What a connection reads again and again. A client that polls sends the same list of nodes each time: from the second
/// time on its encoded list and the variables found for it are kept, so that the list is compared instead of decoded and
/// looked up. Only for values of variables that stay, without range and encoding, and of bounded length; void as soon as any
/// of such nodes comes or goes. What the caller may see is asked at every read. Receiving thread only.
/// </summary>
internal sealed class ReadPlan
{
    private const int BytesMax = 16_384;
    private const int NodesMax = 256;
    private byte[] _list = [];
    private VariableNode[] _nodes = [];
    private int _changes;
    private byte[] _last = [];
    private int _lastBytes;
    private bool _isUnfit;

    /// <summary>Whether there is a list.</summary>
    public bool IsSet => _nodes.Length > 0;

    /// <summary>The variables of the list.</summary>
    public ReadOnlySpan<VariableNode> Nodes => _nodes;

    /// <summary>Whether this encoded list is the one that is kept, and the nodes are still those that were found.</summary>
    public bool IsFor(ReadOnlySpan<byte> list, NodeSpace space)
    {
        if (!IsSet || _changes != space.Changes || !list.SequenceEqual(_list))
        {
            return false;
        }

        // Another list must come twice in a row to take its place, or two lists in turn would drive each other out.
        _lastBytes = 0;
        return true;
    }

    /// <summary>Takes note of a list that was decoded and read the long way.</summary>
    public void Note(ReadOnlySpan<byte> list, ReadOnlySpan<ReadValueId> nodes, NodeSpace space)
    {
        if (list.Length > BytesMax || nodes.Length > NodesMax)
        {
            return;
        }

        if (!list.SequenceEqual(_last.AsSpan(0, _lastBytes)))
        {
            Remember(list);
            return;
        }

        if (_isUnfit)
        {
            return;
        }

        // The number is taken first: a node that goes while the others are looked up voids the plan.
        int changes = space.Changes;
        VariableNode[] found = new VariableNode[nodes.Length];
        for (int i = 0; i < nodes.Length; i++)
        {
            if (!IsPlain(nodes[i]) || space.Find(nodes[i].NodeId) is not VariableNode { IsTransient: false } variable)
            {
                _isUnfit = true;
                return;
            }

            found[i] = variable;
        }

        (_list, _nodes, _changes) = (list.ToArray(), found, changes);
    }

    private static bool IsPlain(in ReadValueId id) => id.AttributeId == (uint)AttributeId.Value && string.IsNullOrEmpty(id.IndexRange) && id.DataEncoding.IsNull;

    // The buffer is used again, so that lists in turn cost a copy and no memory.
    private void Remember(ReadOnlySpan<byte> list)
    {
        if (_last.Length < list.Length)
        {
            _last = new byte[list.Length];
        }

        list.CopyTo(_last);
        (_lastBytes, _isUnfit) = (list.Length, false);
    }
}
