namespace EdgeGuard.OpcUa;

// What a Variant holds. Each getter returns the default value when the Variant holds something else.
public readonly partial struct Variant
{
    internal long Bits => _bits;

    internal object? Reference => _reference;

    /// <summary>The Boolean.</summary>
    public bool AsBoolean => IsScalar(BuiltInType.Boolean) && _bits != 0;

    /// <summary>The integer of any width; a UInt64 above the range of Int64 comes out negative.</summary>
    public long AsInteger => _shape == VariantShape.Scalar && _type is >= BuiltInType.SByte and <= BuiltInType.UInt64 ? _bits : 0;

    /// <summary>The Float or Double.</summary>
    public double AsDouble => _shape != VariantShape.Scalar ? 0 : _type switch
    {
        BuiltInType.Double => BitConverter.Int64BitsToDouble(_bits),
        BuiltInType.Float => BitConverter.Int32BitsToSingle(unchecked((int)_bits)),
        _ => 0,
    };

    /// <summary>The String or XmlElement.</summary>
    public string? AsString => _reference as string;

    /// <summary>The time.</summary>
    public UaDateTime AsDateTime => IsScalar(BuiltInType.DateTime) ? new UaDateTime(_bits) : default;

    /// <summary>The Guid.</summary>
    public Guid AsGuid => _reference is Guid guid ? guid : default;

    /// <summary>The ByteString.</summary>
    public byte[]? AsByteString => IsScalar(BuiltInType.ByteString) ? (byte[]?)_reference : null;

    /// <summary>The NodeId.</summary>
    public NodeId AsNodeId => _reference is NodeId nodeId ? nodeId : default;

    /// <summary>The ExpandedNodeId.</summary>
    public ExpandedNodeId AsExpandedNodeId => _reference is ExpandedNodeId nodeId ? nodeId : default;

    /// <summary>The StatusCode.</summary>
    public StatusCode AsStatusCode => IsScalar(BuiltInType.StatusCode) ? (StatusCode)unchecked((uint)_bits) : default;

    /// <summary>The QualifiedName.</summary>
    public QualifiedName AsQualifiedName => _reference is QualifiedName name ? name : default;

    /// <summary>The LocalizedText.</summary>
    public LocalizedText AsLocalizedText => _reference is LocalizedText text ? text : default;

    /// <summary>The ExtensionObject.</summary>
    public ExtensionObject? AsExtensionObject => _reference as ExtensionObject;

    /// <summary>The DataValue.</summary>
    public DataValue AsDataValue => _reference is DataValue value ? value : default;

    /// <summary>The DiagnosticInfo.</summary>
    public DiagnosticInfo? AsDiagnosticInfo => _reference as DiagnosticInfo;

    /// <summary>The elements of an array or matrix, else null.</summary>
    public Array? Elements => _shape switch
    {
        VariantShape.Array => (Array?)_reference,
        VariantShape.Matrix => ((VariantMatrix)_reference!).Elements,
        _ => null,
    };

    /// <summary>The dimensions of an array or matrix, else null.</summary>
    public int[]? Dimensions => _shape switch
    {
        VariantShape.Array => [((Array)_reference!).Length],
        VariantShape.Matrix => ((VariantMatrix)_reference!).Dimensions,
        _ => null,
    };

    /// <summary>Any scalar number as a Double, for deadbands and comparisons; false for everything else.</summary>
    public bool TryGetNumber(out double number)
    {
        bool isNumber = _shape == VariantShape.Scalar && _type is >= BuiltInType.SByte and <= BuiltInType.Double;
        number = !isNumber ? 0 : _type switch
        {
            BuiltInType.UInt64 => unchecked((ulong)_bits),
            BuiltInType.Float or BuiltInType.Double => AsDouble,
            _ => _bits,
        };
        return isNumber;
    }

    /// <summary>Same type, shape and value; a NaN equals a NaN of the same bits, so an unchanged NaN is not a change.</summary>
    public bool Equals(Variant other)
    {
        if (_type != other._type || _shape != other._shape || _bits != other._bits)
        {
            return false;
        }

        if (_shape == VariantShape.Scalar)
        {
            return VariantElements.ScalarEquals(_reference, other._reference);
        }

        return Dimensions!.AsSpan().SequenceEqual(other.Dimensions) && VariantElements.ArrayEquals(_type, Elements!, other.Elements!);
    }

    /// <inheritdoc/>
    public override bool Equals(object? obj) => obj is Variant other && Equals(other);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(_type, _shape, _bits, _shape == VariantShape.Scalar && _reference is string text ? text : null);

    /// <summary>Equality by value.</summary>
    public static bool operator ==(Variant left, Variant right) => left.Equals(right);

    /// <summary>Inequality by value.</summary>
    public static bool operator !=(Variant left, Variant right) => !left.Equals(right);
}
