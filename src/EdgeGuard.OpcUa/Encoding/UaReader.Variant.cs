namespace EdgeGuard.OpcUa;

// Variant (OPC 10000-6, 5.2.2.16): bits 0-5 type, bit 6 dimensions, bit 7 array.
public ref partial struct UaReader
{
    private const byte DimensionsBit = 0x40;
    private const byte ArrayBit = 0x80;

    /// <summary>Variant: scalar, array or matrix. Types 26 to 31 are reserved and read as ByteString; above, refused.</summary>
    public Variant ReadVariant()
    {
        int start = _position;
        byte head = ReadByte();
        if (head == 0 || !Enter())
        {
            return default;
        }

        var type = (BuiltInType)(head & 0x3F);
        type = type is > BuiltInType.DiagnosticInfo and <= (BuiltInType)31 ? BuiltInType.ByteString : type;
        bool array = (head & ArrayBit) != 0;
        bool dimensions = (head & DimensionsBit) != 0;

        // A Variant holds Variants only as an array, and dimensions only with an array.
        if (type > BuiltInType.DiagnosticInfo || type == BuiltInType.Null || (dimensions && !array) || (type == BuiltInType.Variant && !array))
        {
            Refuse(start, StatusCode.BadDecodingError);
            return default;
        }

        Variant value = array ? ReadVariantArray(type, dimensions) : ReadScalar(type);
        _depth--;
        return Failed ? default : value;
    }

    private Variant ReadScalar(BuiltInType type) => type switch
    {
        BuiltInType.Boolean => new Variant(ReadBoolean()),
        BuiltInType.SByte => new Variant(ReadSByte()),
        BuiltInType.Byte => new Variant(ReadByte()),
        BuiltInType.Int16 => new Variant(ReadInt16()),
        BuiltInType.UInt16 => new Variant(ReadUInt16()),
        BuiltInType.Int32 => new Variant(ReadInt32()),
        BuiltInType.UInt32 => new Variant(ReadUInt32()),
        BuiltInType.Int64 => new Variant(ReadInt64()),
        BuiltInType.UInt64 => new Variant(ReadUInt64()),
        BuiltInType.Float => new Variant(ReadFloat()),
        BuiltInType.Double => new Variant(ReadDouble()),
        BuiltInType.String => new Variant(ReadString()),
        BuiltInType.DateTime => new Variant(ReadDateTime()),
        BuiltInType.Guid => new Variant(ReadGuid()),
        BuiltInType.ByteString => new Variant(ReadByteString()),
        BuiltInType.XmlElement => Variant.FromXml(ReadString()),
        BuiltInType.NodeId => new Variant(ReadNodeId()),
        BuiltInType.ExpandedNodeId => new Variant(ReadExpandedNodeId()),
        BuiltInType.StatusCode => new Variant(ReadStatusCode()),
        BuiltInType.QualifiedName => new Variant(ReadQualifiedName()),
        BuiltInType.LocalizedText => new Variant(ReadLocalizedText()),
        BuiltInType.ExtensionObject => new Variant(ReadExtensionObject()),
        BuiltInType.DataValue => new Variant(ReadDataValue()),
        _ => new Variant(ReadDiagnosticInfo()),
    };

    private Variant ReadVariantArray(BuiltInType type, bool hasDimensions)
    {
        Array? elements = ReadElements(type);
        if (elements is null || Failed)
        {
            return default;
        }

        if (!hasDimensions)
        {
            return Variant.Unchecked(type, elements, null);
        }

        int start = _position;
        int[] dimensions = ReadInt32Array() ?? [];

        // All dimensions shall be greater than zero and their product the number of elements, or the Variant is refused.
        if (dimensions.Length < 1 || VariantElements.Product(dimensions) != elements.Length || elements.Length == 0)
        {
            Refuse(start, StatusCode.BadDecodingError);
            return default;
        }

        return Variant.Unchecked(type, elements, dimensions.Length == 1 ? null : dimensions);
    }

    private Array? ReadElements(BuiltInType type) => type switch
    {
        BuiltInType.Boolean => ReadBooleanArray() ?? [],
        BuiltInType.SByte => ReadPrimitives<sbyte>() ?? [],
        BuiltInType.Byte => ReadPrimitives<byte>() ?? [],
        BuiltInType.Int16 => ReadPrimitives<short>() ?? [],
        BuiltInType.UInt16 => ReadPrimitives<ushort>() ?? [],
        BuiltInType.Int32 => ReadInt32Array() ?? [],
        BuiltInType.UInt32 => ReadUInt32Array() ?? [],
        BuiltInType.Int64 => ReadPrimitives<long>() ?? [],
        BuiltInType.UInt64 => ReadPrimitives<ulong>() ?? [],
        BuiltInType.Float => ReadPrimitives<float>() ?? [],
        BuiltInType.Double => ReadDoubleArray() ?? [],
        BuiltInType.String or BuiltInType.XmlElement => ReadStringArray() ?? [],
        BuiltInType.DateTime => ReadDateTimeArray() ?? [],
        BuiltInType.Guid => ReadGuidArray() ?? [],
        BuiltInType.ByteString => ReadByteStringArray() ?? [],
        BuiltInType.NodeId => ReadNodeIdArray() ?? [],
        BuiltInType.ExpandedNodeId => ReadExpandedNodeIdArray() ?? [],
        BuiltInType.StatusCode => ReadStatusCodeArray() ?? [],
        BuiltInType.QualifiedName => ReadQualifiedNameArray() ?? [],
        BuiltInType.LocalizedText => ReadLocalizedTextArray() ?? [],
        BuiltInType.ExtensionObject => ReadExtensionObjectArray() ?? [],
        BuiltInType.DataValue => ReadDataValueArray() ?? [],
        BuiltInType.Variant => ReadVariantArray() ?? [],
        BuiltInType.DiagnosticInfo => ReadDiagnosticInfoArray() ?? [],
        _ => null,
    };
}
