namespace EdgeGuard.OpcUa;

/// <summary>
/// How the elements of an array in a <see cref="Variant"/> are held. The type number decides, never a type test: at run
/// time a byte[] also passes for an sbyte[], and an enumeration for its base.
/// </summary>
public static class VariantElements
{
    /// <summary>The CLR array type that holds elements of <paramref name="type"/>; null for the null type.</summary>
    public static Type? ClrType(BuiltInType type) => type switch
    {
        BuiltInType.Boolean => typeof(bool[]),
        BuiltInType.SByte => typeof(sbyte[]),
        BuiltInType.Byte => typeof(byte[]),
        BuiltInType.Int16 => typeof(short[]),
        BuiltInType.UInt16 => typeof(ushort[]),
        BuiltInType.Int32 => typeof(int[]),
        BuiltInType.UInt32 => typeof(uint[]),
        BuiltInType.Int64 => typeof(long[]),
        BuiltInType.UInt64 => typeof(ulong[]),
        BuiltInType.Float => typeof(float[]),
        BuiltInType.Double => typeof(double[]),
        BuiltInType.String or BuiltInType.XmlElement => typeof(string[]),
        BuiltInType.DateTime => typeof(UaDateTime[]),
        BuiltInType.Guid => typeof(Guid[]),
        BuiltInType.ByteString => typeof(byte[][]),
        BuiltInType.NodeId => typeof(NodeId[]),
        BuiltInType.ExpandedNodeId => typeof(ExpandedNodeId[]),
        BuiltInType.StatusCode => typeof(StatusCode[]),
        BuiltInType.QualifiedName => typeof(QualifiedName[]),
        BuiltInType.LocalizedText => typeof(LocalizedText[]),
        BuiltInType.ExtensionObject => typeof(ExtensionObject[]),
        BuiltInType.DataValue => typeof(DataValue[]),
        BuiltInType.Variant => typeof(Variant[]),
        BuiltInType.DiagnosticInfo => typeof(DiagnosticInfo[]),
        _ => null,
    };

    // The product saturates, so that four dimensions of 2^31 cannot wrap round to a small number.
    internal static long Product(ReadOnlySpan<int> dimensions)
    {
        long product = 1;
        foreach (int dimension in dimensions)
        {
            if (dimension < 0 || product > int.MaxValue)
            {
                return -1;
            }

            product *= dimension;
        }

        return product;
    }

    internal static bool ScalarEquals(object? left, object? right) => (left, right) switch
    {
        (null, null) => true,
        (null, _) or (_, null) => false,
        (byte[] a, byte[] b) => a.AsSpan().SequenceEqual(b),
        (ExtensionObject a, ExtensionObject b) => ExtensionEquals(a, b),
        _ => left.Equals(right),
    };

    internal static bool ArrayEquals(BuiltInType type, Array left, Array right) => ReferenceEquals(left, right) || type switch
    {
        BuiltInType.Boolean => Same((bool[])left, (bool[])right),
        BuiltInType.SByte => Same((sbyte[])left, (sbyte[])right),
        BuiltInType.Byte => Same((byte[])left, (byte[])right),
        BuiltInType.Int16 => Same((short[])left, (short[])right),
        BuiltInType.UInt16 => Same((ushort[])left, (ushort[])right),
        BuiltInType.Int32 => Same((int[])left, (int[])right),
        BuiltInType.UInt32 => Same((uint[])left, (uint[])right),
        BuiltInType.Int64 => Same((long[])left, (long[])right),
        BuiltInType.UInt64 => Same((ulong[])left, (ulong[])right),
        BuiltInType.Float => Same((float[])left, (float[])right),
        BuiltInType.Double => Same((double[])left, (double[])right),
        BuiltInType.String or BuiltInType.XmlElement => Same((string[])left, (string[])right),
        BuiltInType.DateTime => Same((UaDateTime[])left, (UaDateTime[])right),
        BuiltInType.Guid => Same((Guid[])left, (Guid[])right),
        BuiltInType.NodeId => Same((NodeId[])left, (NodeId[])right),
        BuiltInType.ExpandedNodeId => Same((ExpandedNodeId[])left, (ExpandedNodeId[])right),
        BuiltInType.StatusCode => Same((StatusCode[])left, (StatusCode[])right),
        BuiltInType.QualifiedName => Same((QualifiedName[])left, (QualifiedName[])right),
        BuiltInType.LocalizedText => Same((LocalizedText[])left, (LocalizedText[])right),
        BuiltInType.DataValue => Same((DataValue[])left, (DataValue[])right),
        BuiltInType.Variant => Same((Variant[])left, (Variant[])right),
        _ => ReferencesEqual(left, right),
    };

    private static bool Same<T>(T[] left, T[] right) => left.AsSpan().SequenceEqual(right);

    private static bool ReferencesEqual(Array left, Array right)
    {
        object?[] a = (object?[])left;
        object?[] b = (object?[])right;
        for (int i = 0; i < a.Length && i < b.Length; i++)
        {
            if (!ScalarEquals(a[i], b[i]))
            {
                return false;
            }
        }

        return a.Length == b.Length;
    }

    private static bool ExtensionEquals(ExtensionObject left, ExtensionObject right)
    {
        if (ReferenceEquals(left, right))
        {
            return true;
        }

        if (left.TypeId != right.TypeId || left.Encoding != right.Encoding)
        {
            return false;
        }

        return left.Structure is null && right.Structure is null
            ? left.Body is null == right.Body is null && left.Body.AsSpan().SequenceEqual(right.Body)
            : EncodedEquals(left, right);
    }

    // A structure that is made anew each time it is asked for is the same as before when its bytes are.
    private static bool EncodedEquals(ExtensionObject left, ExtensionObject right)
    {
        using var one = new UaWriter();
        using var other = new UaWriter();
        one.WriteExtensionObject(left);
        other.WriteExtensionObject(right);
        return !one.Overflowed && !other.Overflowed && one.Written.SequenceEqual(other.Written);
    }
}
