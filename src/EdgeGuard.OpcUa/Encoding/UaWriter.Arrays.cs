using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace EdgeGuard.OpcUa;

// Arrays of built-in types: an Int32 length (-1 is null), then the elements (OPC 10000-6, 5.2.5).
public sealed partial class UaWriter
{
    /// <summary>Array of Int32.</summary>
    public void WriteInt32Array(int[]? items) => WritePrimitives<int>(items);

    /// <summary>Array of UInt32.</summary>
    public void WriteUInt32Array(uint[]? items) => WritePrimitives<uint>(items);

    /// <summary>Array of Double.</summary>
    public void WriteDoubleArray(double[]? items) => WritePrimitives<double>(items);

    /// <summary>Array of Byte.</summary>
    public void WriteByteArray(byte[]? items) => WritePrimitives<byte>(items);

    /// <summary>Array of Guid.</summary>
    public void WriteGuidArray(Guid[]? items)
    {
        WriteLength(items);
        foreach (Guid item in items ?? [])
        {
            WriteGuid(item);
        }
    }

    /// <summary>Array of NodeId.</summary>
    public void WriteNodeIdArray(NodeId[]? items)
    {
        WriteLength(items);
        foreach (NodeId item in items ?? [])
        {
            WriteNodeId(item);
        }
    }

    /// <summary>Array of ExpandedNodeId.</summary>
    public void WriteExpandedNodeIdArray(ExpandedNodeId[]? items)
    {
        WriteLength(items);
        foreach (ExpandedNodeId item in items ?? [])
        {
            WriteExpandedNodeId(item);
        }
    }

    /// <summary>Array of QualifiedName.</summary>
    public void WriteQualifiedNameArray(QualifiedName[]? items)
    {
        WriteLength(items);
        foreach (QualifiedName item in items ?? [])
        {
            WriteQualifiedName(item);
        }
    }

    /// <summary>Array of LocalizedText.</summary>
    public void WriteLocalizedTextArray(LocalizedText[]? items)
    {
        WriteLength(items);
        foreach (LocalizedText item in items ?? [])
        {
            WriteLocalizedText(item);
        }
    }

    /// <summary>Array of DataValue.</summary>
    public void WriteDataValueArray(DataValue[]? items)
    {
        WriteLength(items);
        foreach (DataValue item in items ?? [])
        {
            WriteDataValue(item);
        }
    }

    /// <summary>Array of Variant.</summary>
    public void WriteVariantArray(Variant[]? items)
    {
        WriteLength(items);
        foreach (Variant item in items ?? [])
        {
            WriteVariant(item);
        }
    }

    /// <summary>Array of String.</summary>
    public void WriteStringArray(string?[]? items)
    {
        WriteLength(items);
        foreach (string? item in items ?? [])
        {
            WriteString(item);
        }
    }

    /// <summary>Array of ByteString.</summary>
    public void WriteByteStringArray(byte[]?[]? items)
    {
        WriteLength(items);
        foreach (byte[]? item in items ?? [])
        {
            WriteByteString(item);
        }
    }

    /// <summary>Array of ExtensionObject.</summary>
    public void WriteExtensionObjectArray(ExtensionObject?[]? items)
    {
        WriteLength(items);
        foreach (ExtensionObject? item in items ?? [])
        {
            WriteExtensionObject(item);
        }
    }

    /// <summary>Array of DiagnosticInfo.</summary>
    public void WriteDiagnosticInfoArray(DiagnosticInfo?[]? items)
    {
        WriteLength(items);
        foreach (DiagnosticInfo? item in items ?? [])
        {
            WriteDiagnosticInfo(item);
        }
    }

    /// <summary>Array of Boolean.</summary>
    public void WriteBooleanArray(bool[]? items)
    {
        WriteLength(items);
        foreach (bool item in items ?? [])
        {
            WriteBoolean(item);
        }
    }

    /// <summary>Array of StatusCode.</summary>
    public void WriteStatusCodeArray(StatusCode[]? items) => WritePrimitives<StatusCode>(items);

    /// <summary>Array of DateTime.</summary>
    public void WriteDateTimeArray(UaDateTime[]? items) => WritePrimitives<UaDateTime>(items);

    /// <summary>Array of an enumeration, each as Int32.</summary>
    public void WriteEnums<T>(T[]? items)
        where T : unmanaged, Enum => WritePrimitives(items);

    /// <summary>Array of structures.</summary>
    public void WriteStructures<T>(T[]? items)
        where T : IUaStructure<T>
    {
        WriteLength(items);
        foreach (T item in items ?? [])
        {
            item.Write(this);
        }
    }

    private void WriteLength(Array? items) => WriteInt32(items?.Length ?? -1);

    private void WritePrimitives<T>(T[]? items)
        where T : unmanaged
    {
        WriteLength(items);
        ReadOnlySpan<byte> bytes = MemoryMarshal.AsBytes((ReadOnlySpan<T>)items);
        Span<byte> target = Take(bytes.Length);
        if (target.Length == bytes.Length)
        {
            bytes.CopyTo(target);
            UaEndian.Swap(target, Unsafe.SizeOf<T>());
        }
    }
}
