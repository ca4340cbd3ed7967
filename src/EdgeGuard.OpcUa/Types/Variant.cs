namespace EdgeGuard.OpcUa;

/// <summary>
/// Union of all built-in types (OPC 10000-6, 5.2.2.16). Numbers, booleans, times and status codes sit in the struct, so
/// publishing a Double allocates nothing; other scalars and arrays are held by reference and must not be changed after
/// they were put in. The default value is null.
/// </summary>
public readonly partial struct Variant : IEquatable<Variant>
{
    private readonly object? _reference;
    private readonly long _bits;
    private readonly BuiltInType _type;
    private readonly VariantShape _shape;

    private Variant(BuiltInType type, long bits)
    {
        (_type, _bits) = (type, bits);
    }

    private Variant(BuiltInType type, VariantShape shape, object? reference)
    {
        (_type, _shape, _reference) = (type, shape, reference);
    }

    /// <summary>Type of the value or of its elements.</summary>
    public BuiltInType Type => _type;

    /// <summary>Scalar, array or matrix.</summary>
    public VariantShape Shape => _shape;

    /// <summary>Whether there is no value.</summary>
    public bool IsNull => _type == BuiltInType.Null;

    /// <summary>Whether this is one value of the type.</summary>
    public bool IsScalar(BuiltInType type) => _type == type && _shape == VariantShape.Scalar;

    /// <summary>A Boolean.</summary>
    public Variant(bool value)
        : this(BuiltInType.Boolean, value ? 1 : 0)
    {
    }

    /// <summary>An SByte.</summary>
    public Variant(sbyte value)
        : this(BuiltInType.SByte, value)
    {
    }

    /// <summary>A Byte.</summary>
    public Variant(byte value)
        : this(BuiltInType.Byte, value)
    {
    }

    /// <summary>An Int16.</summary>
    public Variant(short value)
        : this(BuiltInType.Int16, value)
    {
    }

    /// <summary>A UInt16.</summary>
    public Variant(ushort value)
        : this(BuiltInType.UInt16, value)
    {
    }

    /// <summary>An Int32; also the value of an enumeration.</summary>
    public Variant(int value)
        : this(BuiltInType.Int32, value)
    {
    }

    /// <summary>A UInt32.</summary>
    public Variant(uint value)
        : this(BuiltInType.UInt32, value)
    {
    }

    /// <summary>An Int64.</summary>
    public Variant(long value)
        : this(BuiltInType.Int64, value)
    {
    }

    /// <summary>A UInt64.</summary>
    public Variant(ulong value)
        : this(BuiltInType.UInt64, unchecked((long)value))
    {
    }

    /// <summary>A Float.</summary>
    public Variant(float value)
        : this(BuiltInType.Float, BitConverter.SingleToInt32Bits(value))
    {
    }

    /// <summary>A Double.</summary>
    public Variant(double value)
        : this(BuiltInType.Double, BitConverter.DoubleToInt64Bits(value))
    {
    }

    /// <summary>A String; null stays a String without a value.</summary>
    public Variant(string? value)
        : this(BuiltInType.String, VariantShape.Scalar, value)
    {
    }

    /// <summary>A DateTime.</summary>
    public Variant(UaDateTime value)
        : this(BuiltInType.DateTime, value.Ticks)
    {
    }

    /// <summary>A Guid.</summary>
    public Variant(Guid value)
        : this(BuiltInType.Guid, VariantShape.Scalar, value)
    {
    }

    /// <summary>A ByteString (for an array of Byte see <see cref="FromArray"/>).</summary>
    public Variant(byte[]? value)
        : this(BuiltInType.ByteString, VariantShape.Scalar, value)
    {
    }

    /// <summary>A NodeId.</summary>
    public Variant(NodeId value)
        : this(BuiltInType.NodeId, VariantShape.Scalar, value)
    {
    }

    /// <summary>An ExpandedNodeId.</summary>
    public Variant(ExpandedNodeId value)
        : this(BuiltInType.ExpandedNodeId, VariantShape.Scalar, value)
    {
    }

    /// <summary>A StatusCode.</summary>
    public Variant(StatusCode value)
        : this(BuiltInType.StatusCode, (uint)value)
    {
    }

    /// <summary>A QualifiedName.</summary>
    public Variant(QualifiedName value)
        : this(BuiltInType.QualifiedName, VariantShape.Scalar, value)
    {
    }

    /// <summary>A LocalizedText.</summary>
    public Variant(LocalizedText value)
        : this(BuiltInType.LocalizedText, VariantShape.Scalar, value)
    {
    }

    /// <summary>An ExtensionObject; null is the null object.</summary>
    public Variant(ExtensionObject? value)
        : this(BuiltInType.ExtensionObject, VariantShape.Scalar, value)
    {
    }

    /// <summary>A structure, as ExtensionObject.</summary>
    public Variant(IUaStructure structure)
        : this(new ExtensionObject(structure))
    {
    }

    /// <summary>A DataValue within a Variant.</summary>
    public Variant(DataValue value)
        : this(BuiltInType.DataValue, VariantShape.Scalar, value)
    {
    }

    /// <summary>A DiagnosticInfo.</summary>
    public Variant(DiagnosticInfo? value)
        : this(BuiltInType.DiagnosticInfo, VariantShape.Scalar, value)
    {
    }

    /// <summary>An XmlElement as text.</summary>
    public static Variant FromXml(string? xml) => new(BuiltInType.XmlElement, VariantShape.Scalar, xml);

    /// <summary>
    /// An array of one dimension. The element type of <paramref name="elements"/> must be the one that
    /// <see cref="VariantElements.ClrType"/> names for <paramref name="type"/>.
    /// </summary>
    public static Variant FromArray(BuiltInType type, Array elements)
    {
        Check(type, elements);
        return new Variant(type, VariantShape.Array, elements);
    }

    /// <summary>An array of several dimensions, elements in row-major order; the product of the dimensions must equal the length.</summary>
    public static Variant FromMatrix(BuiltInType type, Array elements, int[] dimensions)
    {
        Check(type, elements);
        ArgumentNullException.ThrowIfNull(dimensions);
        long product = VariantElements.Product(dimensions);
        if (product != elements.Length || dimensions.Length < 2)
        {
            throw new ArgumentException("a matrix needs two dimensions or more, and their product must be the number of elements", nameof(dimensions));
        }

        return new Variant(type, VariantShape.Matrix, new VariantMatrix(elements, dimensions));
    }

    // For the decoder, which has already made an array of the right type.
    internal static Variant Unchecked(BuiltInType type, Array elements, int[]? dimensions) =>
        dimensions is null ? new Variant(type, VariantShape.Array, elements) : new Variant(type, VariantShape.Matrix, new VariantMatrix(elements, dimensions));

    private static void Check(BuiltInType type, Array elements)
    {
        ArgumentNullException.ThrowIfNull(elements);
        if (elements.GetType() != VariantElements.ClrType(type))
        {
            throw new ArgumentException($"elements of {type} are held in a {VariantElements.ClrType(type)?.Name ?? "(nothing)"}, not in a {elements.GetType().Name}", nameof(elements));
        }
    }
}
