using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace EdgeGuard.OpcUa;

// Arrays of built-in types: an Int32 length (-1 is null), then the elements (OPC 10000-6, 5.2.5).
public ref partial struct UaReader
{
    /// <summary>Array of Int32; null when the length is -1.</summary>
    public int[]? ReadInt32Array() => ReadPrimitives<int>();

    /// <summary>Array of UInt32; null when the length is -1.</summary>
    public uint[]? ReadUInt32Array() => ReadPrimitives<uint>();

    /// <summary>Array of Double; null when the length is -1.</summary>
    public double[]? ReadDoubleArray() => ReadPrimitives<double>();

    /// <summary>Array of Byte; null when the length is -1.</summary>
    public byte[]? ReadByteArray() => ReadPrimitives<byte>();

    /// <summary>Array of Guid; null when the length is -1.</summary>
    public Guid[]? ReadGuidArray()
    {
        int length = ReadArrayLength(16, Unsafe.SizeOf<Guid>(), out bool isNull);
        if (isNull || Failed)
        {
            return null;
        }

        Guid[] items = length == 0 ? [] : new Guid[length];
        for (int i = 0; i < items.Length && !Failed; i++)
        {
            items[i] = ReadGuid();
        }

        return items;
    }

    /// <summary>Array of NodeId; null when the length is -1.</summary>
    public NodeId[]? ReadNodeIdArray()
    {
        int length = ReadArrayLength(2, Unsafe.SizeOf<NodeId>(), out bool isNull);
        if (isNull || Failed)
        {
            return null;
        }

        NodeId[] items = length == 0 ? [] : new NodeId[length];
        for (int i = 0; i < items.Length && !Failed; i++)
        {
            items[i] = ReadNodeId();
        }

        return items;
    }

    /// <summary>Array of ExpandedNodeId; null when the length is -1.</summary>
    public ExpandedNodeId[]? ReadExpandedNodeIdArray()
    {
        int length = ReadArrayLength(2, Unsafe.SizeOf<ExpandedNodeId>(), out bool isNull);
        if (isNull || Failed)
        {
            return null;
        }

        ExpandedNodeId[] items = length == 0 ? [] : new ExpandedNodeId[length];
        for (int i = 0; i < items.Length && !Failed; i++)
        {
            items[i] = ReadExpandedNodeId();
        }

        return items;
    }

    /// <summary>Array of QualifiedName; null when the length is -1.</summary>
    public QualifiedName[]? ReadQualifiedNameArray()
    {
        int length = ReadArrayLength(6, Unsafe.SizeOf<QualifiedName>(), out bool isNull);
        if (isNull || Failed)
        {
            return null;
        }

        QualifiedName[] items = length == 0 ? [] : new QualifiedName[length];
        for (int i = 0; i < items.Length && !Failed; i++)
        {
            items[i] = ReadQualifiedName();
        }

        return items;
    }

    /// <summary>Array of LocalizedText; null when the length is -1.</summary>
    public LocalizedText[]? ReadLocalizedTextArray()
    {
        int length = ReadArrayLength(1, Unsafe.SizeOf<LocalizedText>(), out bool isNull);
        if (isNull || Failed)
        {
            return null;
        }

        LocalizedText[] items = length == 0 ? [] : new LocalizedText[length];
        for (int i = 0; i < items.Length && !Failed; i++)
        {
            items[i] = ReadLocalizedText();
        }

        return items;
    }

    /// <summary>Array of DataValue; null when the length is -1.</summary>
    public DataValue[]? ReadDataValueArray()
    {
        int length = ReadArrayLength(1, Unsafe.SizeOf<DataValue>(), out bool isNull);
        if (isNull || Failed)
        {
            return null;
        }

        DataValue[] items = length == 0 ? [] : new DataValue[length];
        for (int i = 0; i < items.Length && !Failed; i++)
        {
            items[i] = ReadDataValue();
        }

        return items;
    }

    /// <summary>Array of Variant; null when the length is -1.</summary>
    public Variant[]? ReadVariantArray()
    {
        int length = ReadArrayLength(1, Unsafe.SizeOf<Variant>(), out bool isNull);
        if (isNull || Failed)
        {
            return null;
        }

        Variant[] items = length == 0 ? [] : new Variant[length];
        for (int i = 0; i < items.Length && !Failed; i++)
        {
            items[i] = ReadVariant();
        }

        return items;
    }

    /// <summary>Array of String; null when the length is -1.</summary>
    public string?[]? ReadStringArray()
    {
        int length = ReadArrayLength(4, 8, out bool isNull);
        if (isNull || Failed)
        {
            return null;
        }

        string?[] items = length == 0 ? [] : new string?[length];
        for (int i = 0; i < items.Length && !Failed; i++)
        {
            items[i] = ReadString();
        }

        return items;
    }

    /// <summary>Array of ByteString; null when the length is -1.</summary>
    public byte[]?[]? ReadByteStringArray()
    {
        int length = ReadArrayLength(4, 8, out bool isNull);
        if (isNull || Failed)
        {
            return null;
        }

        byte[]?[] items = length == 0 ? [] : new byte[length][];
        for (int i = 0; i < items.Length && !Failed; i++)
        {
            items[i] = ReadByteString();
        }

        return items;
    }

    /// <summary>Array of ExtensionObject; null when the length is -1.</summary>
    public ExtensionObject?[]? ReadExtensionObjectArray()
    {
        int length = ReadArrayLength(3, 8, out bool isNull);
        if (isNull || Failed)
        {
            return null;
        }

        ExtensionObject?[] items = length == 0 ? [] : new ExtensionObject?[length];
        for (int i = 0; i < items.Length && !Failed; i++)
        {
            items[i] = ReadExtensionObject();
        }

        return items;
    }

    /// <summary>Array of DiagnosticInfo; null when the length is -1.</summary>
    public DiagnosticInfo?[]? ReadDiagnosticInfoArray()
    {
        int length = ReadArrayLength(1, 8, out bool isNull);
        if (isNull || Failed)
        {
            return null;
        }

        DiagnosticInfo?[] items = length == 0 ? [] : new DiagnosticInfo?[length];
        for (int i = 0; i < items.Length && !Failed; i++)
        {
            items[i] = ReadDiagnosticInfo();
        }

        return items;
    }

    /// <summary>Array of Boolean; null when the length is -1.</summary>
    public bool[]? ReadBooleanArray()
    {
        int length = ReadArrayLength(1, Unsafe.SizeOf<bool>(), out bool isNull);
        if (isNull || Failed)
        {
            return null;
        }

        bool[] items = length == 0 ? [] : new bool[length];
        for (int i = 0; i < items.Length && !Failed; i++)
        {
            items[i] = ReadBoolean();
        }

        return items;
    }

    /// <summary>Array of StatusCode; null when the length is -1.</summary>
    public StatusCode[]? ReadStatusCodeArray() => ReadPrimitives<StatusCode>();

    /// <summary>Array of DateTime, each clamped; null when the length is -1.</summary>
    public UaDateTime[]? ReadDateTimeArray()
    {
        int length = ReadArrayLength(8, 8, out bool isNull);
        if (isNull || Failed)
        {
            return null;
        }

        UaDateTime[] items = length == 0 ? [] : new UaDateTime[length];
        for (int i = 0; i < items.Length; i++)
        {
            items[i] = ReadDateTime();
        }

        return items;
    }

    /// <summary>Array of Int32 read as an enumeration; values outside the enumeration are kept for the service to refuse.</summary>
    public T[]? ReadEnums<T>()
        where T : unmanaged, Enum => ReadPrimitives<T>();

    private T[]? ReadPrimitives<T>()
        where T : unmanaged
    {
        int size = Unsafe.SizeOf<T>();
        int length = ReadArrayLength(size, size, out bool isNull);
        if (isNull || Failed)
        {
            return null;
        }

        T[] items = length == 0 ? [] : new T[length];
        Span<byte> bytes = MemoryMarshal.AsBytes(items.AsSpan());
        ReadBytes(bytes.Length).CopyTo(bytes);
        UaEndian.Swap(bytes, size);
        return items;
    }
}
