using System.Buffers.Binary;

namespace EdgeGuard.OpcUa;

// Built-in types made of others (OPC 10000-6, 5.2.2.9 to 5.2.2.17).
public sealed partial class UaWriter
{
    /// <summary>NodeId in its shortest form.</summary>
    public void WriteNodeId(NodeId value) => WriteNodeId(value, 0);

    /// <summary>ExpandedNodeId: flag 0x80 namespace URI, 0x40 server index.</summary>
    public void WriteExpandedNodeId(ExpandedNodeId value)
    {
        int flags = (value.NamespaceUri is null ? 0 : 0x80) | (value.ServerIndex == 0 ? 0 : 0x40);
        WriteNodeId(value.NodeId, (byte)flags);
        if (value.NamespaceUri is not null)
        {
            WriteString(value.NamespaceUri);
        }

        if (value.ServerIndex != 0)
        {
            WriteUInt32(value.ServerIndex);
        }
    }

    /// <summary>QualifiedName.</summary>
    public void WriteQualifiedName(QualifiedName value)
    {
        WriteUInt16(value.NamespaceIndex);
        WriteString(value.Name);
    }

    /// <summary>LocalizedText.</summary>
    public void WriteLocalizedText(LocalizedText value)
    {
        WriteByte((byte)((value.Locale is null ? 0 : 1) | (value.Text is null ? 0 : 2)));
        if (value.Locale is not null)
        {
            WriteString(value.Locale);
        }

        if (value.Text is not null)
        {
            WriteString(value.Text);
        }
    }

    /// <summary>ExtensionObject; null is the null type without a body.</summary>
    public void WriteExtensionObject(ExtensionObject? value)
    {
        if (value is null)
        {
            WriteNodeId(default);
            WriteByte(0);
            return;
        }

        WriteNodeId(value.TypeId);
        WriteByte((byte)value.Encoding);
        if (value.Structure is { } structure)
        {
            int position = _position;
            WriteInt32(0);
            structure.Write(this);
            PatchInt32(position, _position - position - 4);
        }
        else if (value.Encoding != ExtensionObjectEncoding.None)
        {
            WriteByteString(value.Body);
        }
    }

    /// <summary>DataValue; null timestamps, zero picoseconds and a Good status are left out.</summary>
    public void WriteDataValue(in DataValue value)
    {
        if (!TryWriteNumber(value))
        {
            WriteAnyDataValue(value);
        }
    }

    // Bytes of the built-in types that sit in a Variant as a number, by the number of the type (OPC 10000-6, 5.1.2); 0 for the others.
    private static ReadOnlySpan<byte> NumberBytes => [0, 1, 1, 1, 2, 2, 4, 4, 8, 8, 4, 8, 0, 8, 0, 0, 0, 0, 0, 4, 0, 0, 0, 0, 0, 0];

    // The common case in one piece: one number with its status and times. A number is written whole and counted by its width;
    // what follows overwrites the rest.
    private bool TryWriteNumber(in DataValue value)
    {
        const int BytesMost = 2 + sizeof(long) + sizeof(uint) + (2 * sizeof(long));
        int width = value.Value.Shape == VariantShape.Scalar ? NumberBytes[(int)value.Value.Type] : 0;
        if (width == 0 || value.SourcePicoseconds != 0 || value.ServerPicoseconds != 0 || _capacity - _position < BytesMost)
        {
            return false;
        }

        Span<byte> target = _buffer.AsSpan(_position, BytesMost);
        (int mask, int at) = (0x01, 2 + width);
        target[1] = (byte)value.Value.Type;
        BinaryPrimitives.WriteInt64LittleEndian(target[2..], value.Value.Bits);
        if (value.Status != StatusCode.Good)
        {
            BinaryPrimitives.WriteUInt32LittleEndian(target[at..], (uint)value.Status);
            (mask, at) = (mask | 0x02, at + sizeof(uint));
        }

        if (!value.SourceTimestamp.IsNull)
        {
            BinaryPrimitives.WriteInt64LittleEndian(target[at..], value.SourceTimestamp.Ticks);
            (mask, at) = (mask | 0x04, at + sizeof(long));
        }

        if (!value.ServerTimestamp.IsNull)
        {
            BinaryPrimitives.WriteInt64LittleEndian(target[at..], value.ServerTimestamp.Ticks);
            (mask, at) = (mask | 0x08, at + sizeof(long));
        }

        target[0] = (byte)mask;
        _position += at;
        return true;
    }

    private void WriteAnyDataValue(in DataValue value)
    {
        int mask = (value.Value.IsNull ? 0 : 0x01) | (value.Status == StatusCode.Good ? 0 : 0x02)
            | (value.SourceTimestamp.IsNull ? 0 : 0x04) | (value.ServerTimestamp.IsNull ? 0 : 0x08)
            | (value.SourcePicoseconds == 0 ? 0 : 0x10) | (value.ServerPicoseconds == 0 ? 0 : 0x20);
        WriteByte((byte)mask);
        if ((mask & 0x01) != 0)
        {
            WriteVariant(value.Value);
        }

        if ((mask & 0x02) != 0)
        {
            WriteStatusCode(value.Status);
        }

        if ((mask & 0x04) != 0)
        {
            WriteDateTime(value.SourceTimestamp);
        }

        if ((mask & 0x10) != 0)
        {
            WriteUInt16(value.SourcePicoseconds);
        }

        if ((mask & 0x08) != 0)
        {
            WriteDateTime(value.ServerTimestamp);
        }

        if ((mask & 0x20) != 0)
        {
            WriteUInt16(value.ServerPicoseconds);
        }
    }

    /// <summary>DiagnosticInfo; null is an empty mask.</summary>
    public void WriteDiagnosticInfo(DiagnosticInfo? value)
    {
        if (value is null)
        {
            WriteByte(0);
            return;
        }

        int mask = (value.SymbolicId < 0 ? 0 : 0x01) | (value.NamespaceUri < 0 ? 0 : 0x02) | (value.LocalizedText < 0 ? 0 : 0x04) | (value.Locale < 0 ? 0 : 0x08)
            | (value.AdditionalInfo is null ? 0 : 0x10) | (value.InnerStatusCode is null ? 0 : 0x20) | (value.InnerDiagnosticInfo is null ? 0 : 0x40);
        WriteByte((byte)mask);
        WriteIndex(value.SymbolicId);
        WriteIndex(value.NamespaceUri);
        WriteIndex(value.Locale);
        WriteIndex(value.LocalizedText);
        if (value.AdditionalInfo is not null)
        {
            WriteString(value.AdditionalInfo);
        }

        if (value.InnerStatusCode is { } status)
        {
            WriteStatusCode(status);
        }

        if (value.InnerDiagnosticInfo is not null)
        {
            WriteDiagnosticInfo(value.InnerDiagnosticInfo);
        }
    }

    private void WriteIndex(int index)
    {
        if (index >= 0)
        {
            WriteInt32(index);
        }
    }

    private void WriteNodeId(NodeId value, byte flags)
    {
        switch (value.Type)
        {
            case NodeIdType.Numeric:
                WriteNumericNodeId(value.NamespaceIndex, value.Number, flags);
                break;
            case NodeIdType.Text:
                WriteByte((byte)(0x03 | flags));
                WriteUInt16(value.NamespaceIndex);
                WriteString(value.Text);
                break;
            case NodeIdType.Guid:
                WriteByte((byte)(0x04 | flags));
                WriteUInt16(value.NamespaceIndex);
                WriteGuid(value.Guid);
                break;
            default:
                WriteByte((byte)(0x05 | flags));
                WriteUInt16(value.NamespaceIndex);
                WriteByteString(value.Octets);
                break;
        }
    }

    // Two-byte form for ns=0 and up to 255, four-byte form for ns up to 255 and up to 65535, else the full form (5.2.2.9).
    private void WriteNumericNodeId(ushort ns, uint number, byte flags)
    {
        if (ns == 0 && number <= byte.MaxValue)
        {
            WriteByte((byte)(0x00 | flags));
            WriteByte((byte)number);
        }
        else if (ns <= byte.MaxValue && number <= ushort.MaxValue)
        {
            WriteByte((byte)(0x01 | flags));
            WriteByte((byte)ns);
            WriteUInt16((ushort)number);
        }
        else
        {
            WriteByte((byte)(0x02 | flags));
            WriteUInt16(ns);
            WriteUInt32(number);
        }
    }
}
