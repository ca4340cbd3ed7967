using System.IO.Compression;
using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.AddressSpace;

/// <summary>
/// Loads the nodes of namespace 0 from the table that Generation/nodeset.py made; the layout is described there. The
/// table is part of the assembly, so anything unexpected in it is a fault of the build and stops the start.
/// </summary>
public sealed class StandardNodes
{
    private const string Resource = "standard-nodes.bin";
    private static readonly UaLimits Limits = new() { ArrayLengthMax = 1_000_000, DecodedBytesMax = 256_000_000 };
    private readonly string[] _texts;
    private Node[] _nodes = [];

    private StandardNodes(string[] texts)
    {
        _texts = texts;
    }

    /// <summary>Adds all nodes and references of the table to an empty space.</summary>
    /// <returns>Version and publication date of the nodeset.</returns>
    public static (string Version, string Published) Load(NodeSpace space)
    {
        ArgumentNullException.ThrowIfNull(space);
        var reader = new UaReader(Unpack(), Limits);
        string version = reader.ReadString()!;
        string published = reader.ReadString()!;
        var table = new StandardNodes(ReadTexts(ref reader));
        table.ReadNodes(ref reader);
        table.ReadReferences(ref reader);
        if (reader.Failed || reader.Remaining != 0)
        {
            throw new InvalidOperationException($"the table of standard nodes is damaged at byte {reader.Position}; build the program again");
        }

        foreach (Node node in table._nodes)
        {
            space.Add(node);
        }

        return (version, published);
    }

    private static byte[] Unpack()
    {
        using Stream packed = typeof(StandardNodes).Assembly.GetManifestResourceStream(Resource)
            ?? throw new InvalidOperationException($"the assembly lacks {Resource}; build the program again");
        using var unpacking = new ZLibStream(packed, CompressionMode.Decompress);
        using var bytes = new MemoryStream(1_000_000);
        unpacking.CopyTo(bytes);
        return bytes.ToArray();
    }

    private static string[] ReadTexts(ref UaReader reader)
    {
        string[] texts = new string[reader.ReadInt32()];
        for (int i = 0; i < texts.Length; i++)
        {
            texts[i] = reader.ReadString()!;
        }

        return texts;
    }

    private void ReadNodes(ref UaReader reader)
    {
        _nodes = new Node[reader.ReadInt32()];
        for (int i = 0; i < _nodes.Length; i++)
        {
            var nodeId = new NodeId(reader.ReadUInt16());
            var nodeClass = (NodeClass)(1 << reader.ReadByte());
            int flags = reader.ReadByte();
            var browseName = new QualifiedName(_texts[reader.ReadUInt16()]);
            var displayName = new LocalizedText(_texts[reader.ReadUInt16()]);
            _nodes[i] = ReadNode(ref reader, nodeClass, flags, nodeId, browseName, displayName);
        }
    }

    private Node ReadNode(ref UaReader reader, NodeClass nodeClass, int flags, NodeId nodeId, QualifiedName browseName, LocalizedText displayName)
    {
        bool isAbstract = (flags & 1) != 0;
        switch (nodeClass)
        {
            case NodeClass.Object:
                return new ObjectNode(nodeId, browseName, displayName) { EventNotifier = reader.ReadByte() };
            case NodeClass.Method:
                return new MethodNode(nodeId, browseName, displayName);
            case NodeClass.ObjectType:
                return new ObjectTypeNode(nodeId, browseName, displayName) { IsAbstract = isAbstract };
            case NodeClass.ReferenceType:
                int inverse = reader.ReadUInt16();
                LocalizedText inverseName = inverse == ushort.MaxValue ? default : new LocalizedText(_texts[inverse]);
                return new ReferenceTypeNode(nodeId, browseName, displayName) { IsAbstract = isAbstract, Symmetric = (flags & 2) != 0, InverseName = inverseName };
            case NodeClass.DataType:
                return new DataTypeNode(nodeId, browseName, displayName) { IsAbstract = isAbstract, Definition = (flags & 4) != 0 ? ReadDefinition(ref reader) : null };
            default:
                return ReadVariable(ref reader, nodeClass, flags, nodeId, browseName, displayName);
        }
    }

    private static Node ReadVariable(ref UaReader reader, NodeClass nodeClass, int flags, NodeId nodeId, QualifiedName browseName, LocalizedText displayName)
    {
        var dataType = new NodeId(reader.ReadUInt16());
        int rank = reader.ReadSByte();
        var access = (AccessLevels)reader.ReadByte();
        uint[]? dimensions = (flags & 8) != 0 ? reader.ReadUInt32Array() : null;
        Variant value = (flags & 4) != 0 ? ReadValue(ref reader) : default;
        if (nodeClass == NodeClass.VariableType)
        {
            return new VariableTypeNode(nodeId, browseName, displayName)
            {
                IsAbstract = (flags & 1) != 0,
                DataType = dataType,
                ValueRank = rank,
                ArrayDimensions = dimensions,
                Value = value,
            };
        }

        var variable = new VariableNode(nodeId, browseName, displayName) { DataType = dataType, ValueRank = rank, ArrayDimensions = dimensions, AccessLevel = access };
        variable.Set(value);
        return variable;
    }

    private static Variant ReadValue(ref UaReader reader)
    {
        _ = reader.ReadInt32();
        return reader.ReadVariant();
    }

    private static ExtensionObject? ReadDefinition(ref UaReader reader)
    {
        _ = reader.ReadInt32();
        return reader.ReadExtensionObject();
    }

    // Counts first, so that each node gets one array of the right size: forward references in the order of the table,
    // then the inverse ones.
    private void ReadReferences(ref UaReader reader)
    {
        int count = reader.ReadInt32();
        var triples = new (ushort Source, ushort Type, ushort Target)[count];
        int[] forward = new int[_nodes.Length];
        int[] inverse = new int[_nodes.Length];
        for (int i = 0; i < count; i++)
        {
            triples[i] = (reader.ReadUInt16(), reader.ReadUInt16(), reader.ReadUInt16());
            forward[triples[i].Source]++;
            inverse[triples[i].Target]++;
        }

        var lists = new Reference[_nodes.Length][];
        for (int i = 0; i < lists.Length; i++)
        {
            lists[i] = new Reference[forward[i] + inverse[i]];
            inverse[i] = forward[i];
            forward[i] = 0;
        }

        foreach ((ushort source, ushort type, ushort target) in triples)
        {
            var kind = (ReferenceTypeNode)_nodes[type];
            lists[source][forward[source]++] = new Reference(kind, true, _nodes[target]);
            lists[target][inverse[target]++] = new Reference(kind, false, _nodes[source]);
        }

        for (int i = 0; i < lists.Length; i++)
        {
            _nodes[i].SetReferences(lists[i]);
        }
    }
}
