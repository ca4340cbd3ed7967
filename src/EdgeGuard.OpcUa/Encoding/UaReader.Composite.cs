namespace EdgeGuard.OpcUa;

// Built-in types made of others (OPC 10000-6, 5.2.2.9 to 5.2.2.17).
public ref partial struct UaReader
{
    /// <summary>NodeId in any of its forms (5.2.2.9).</summary>
    public NodeId ReadNodeId()
    {
        int start = _position;
        byte form = ReadByte();
        NodeId nodeId = ReadNodeIdBody(form);
        if (form > 0x05)
        {
            Refuse(start, StatusCode.BadDecodingError);
        }

        return nodeId;
    }

    /// <summary>ExpandedNodeId: flag 0x80 adds a namespace URI, 0x40 a server index (5.2.2.10).</summary>
    public ExpandedNodeId ReadExpandedNodeId()
    {
        int start = _position;
        byte form = ReadByte();
        NodeId nodeId = ReadNodeIdBody((byte)(form & 0x3F));
        if ((form & 0x3F) > 0x05)
        {
            Refuse(start, StatusCode.BadDecodingError);
        }

        string? uri = (form & 0x80) != 0 ? ReadString() : null;
        uint server = (form & 0x40) != 0 ? ReadUInt32() : 0;
        return new ExpandedNodeId(nodeId, uri, server);
    }

    /// <summary>QualifiedName (5.2.2.13).</summary>
    public QualifiedName ReadQualifiedName()
    {
        ushort ns = ReadUInt16();
        return new QualifiedName(ns, ReadString());
    }

    /// <summary>LocalizedText: bit 0 locale, bit 1 text (5.2.2.14); other bits are refused.</summary>
    public LocalizedText ReadLocalizedText()
    {
        byte mask = ReadMask(0x03);
        string? locale = (mask & 1) != 0 ? ReadString() : null;
        return new LocalizedText(locale, (mask & 2) != 0 ? ReadString() : null);
    }

    /// <summary>ExtensionObject; null for the null type without a body (5.2.2.15).</summary>
    public ExtensionObject? ReadExtensionObject()
    {
        NodeId typeId = ReadNodeId();
        int start = _position;
        byte encoding = ReadByte();
        if (encoding > 2)
        {
            Refuse(start, StatusCode.BadDecodingError);
        }

        if (Failed || (encoding == 0 && typeId.IsNull))
        {
            return null;
        }

        byte[]? body = encoding == 0 ? null : ReadByteString();
        return Charge(56) ? new ExtensionObject(typeId, (ExtensionObjectEncoding)encoding, body) : null;
    }

    /// <summary>DataValue; the fields follow in the order value, status, source, source picoseconds, server, server picoseconds (5.2.2.17).</summary>
    public DataValue ReadDataValue()
    {
        if (!Enter())
        {
            return default;
        }

        byte mask = ReadMask(0x3F);
        Variant value = (mask & 0x01) != 0 ? ReadVariant() : default;
        StatusCode status = (mask & 0x02) != 0 ? ReadStatusCode() : StatusCode.Good;
        UaDateTime source = (mask & 0x04) != 0 ? ReadDateTime() : default;
        ushort sourcePicoseconds = (mask & 0x10) != 0 ? ReadPicoseconds() : (ushort)0;
        UaDateTime server = (mask & 0x08) != 0 ? ReadDateTime() : default;
        ushort serverPicoseconds = (mask & 0x20) != 0 ? ReadPicoseconds() : (ushort)0;
        _depth--;
        return new DataValue(value, status, source, server, sourcePicoseconds, serverPicoseconds);
    }

    /// <summary>DiagnosticInfo; may nest up to the limit (5.2.2.12). Null when nothing is given.</summary>
    public DiagnosticInfo? ReadDiagnosticInfo()
    {
        byte mask = ReadMask(0x7F);
        if (mask == 0 || !Enter() || !Charge(64))
        {
            return null;
        }

        var info = new DiagnosticInfo
        {
            SymbolicId = (mask & 0x01) != 0 ? ReadInt32() : -1,
            NamespaceUri = (mask & 0x02) != 0 ? ReadInt32() : -1,
            Locale = (mask & 0x08) != 0 ? ReadInt32() : -1,
            LocalizedText = (mask & 0x04) != 0 ? ReadInt32() : -1,
            AdditionalInfo = (mask & 0x10) != 0 ? ReadString() : null,
            InnerStatusCode = (mask & 0x20) != 0 ? ReadStatusCode() : null,
            InnerDiagnosticInfo = (mask & 0x40) != 0 ? ReadDiagnosticInfo() : null,
        };
        _depth--;
        return info;
    }

    private NodeId ReadNodeIdBody(byte form) => form switch
    {
        0x00 => new NodeId(ReadByte()),
        0x01 => new NodeId(ReadByte(), ReadUInt16()),
        0x02 => new NodeId(ReadUInt16(), ReadUInt32()),
        0x03 => new NodeId(ReadUInt16(), ReadKnownText()),
        0x04 => new NodeId(ReadUInt16(), ReadGuid()),
        0x05 => new NodeId(ReadUInt16(), ReadByteString()),
        _ => default,
    };

    private string? ReadKnownText()
    {
        ReadOnlySpan<byte> utf8 = ReadStringBytes(out bool isNull);
        if (isNull || Failed)
        {
            return null;
        }

        return _limits.KnownTexts?.Find(utf8) ?? Text(utf8);
    }

    private byte ReadMask(byte allowed)
    {
        int start = _position;
        byte mask = ReadByte();
        if ((mask & ~allowed) != 0)
        {
            Refuse(start, StatusCode.BadDecodingError);
            return 0;
        }

        return mask;
    }

    // Table of DataValue in OPC 10000-6: values above 9999 are read as 9999.
    private ushort ReadPicoseconds() => Math.Min(ReadUInt16(), (ushort)9999);
}
