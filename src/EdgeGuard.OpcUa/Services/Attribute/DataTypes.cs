using EdgeGuard.OpcUa.AddressSpace;

namespace EdgeGuard.OpcUa.Services;

/// <summary>What values a data type takes (OPC 10000-3, 5.8.3): used for writes and for the arguments of methods.</summary>
public static class DataTypes
{
    // Numbers of abstract data types (NodeIds.csv); up to 25 the number is that of the built-in type.
    private const uint Number = 26;
    private const uint Integer = 27;
    private const uint UInteger = 28;
    private const uint LastBuiltIn = 25;

    /// <summary>
    /// Whether a value has the data type and rank. A value of the built-in type that the data type comes down to is
    /// taken; an empty Variant is not.
    /// </summary>
    /// <param name="space">The space that holds the data types.</param>
    /// <param name="dataType">NodeId of the data type.</param>
    /// <param name="valueRank">ValueRank as in the attribute.</param>
    /// <param name="value">The value.</param>
    public static bool Accepts(NodeSpace space, in NodeId dataType, int valueRank, in Variant value)
    {
        ArgumentNullException.ThrowIfNull(space);
        return !value.IsNull && RankFits(valueRank, value) && TypeFits(space.Find(dataType) as TypeNode, value.Type);
    }

    /// <summary>The built-in type in which values of a data type are encoded; Variant for abstract ones, Null for an unknown one.</summary>
    public static BuiltInType BuiltIn(NodeSpace space, in NodeId dataType)
    {
        ArgumentNullException.ThrowIfNull(space);
        for (var type = space.Find(dataType) as TypeNode; type is not null; type = type.SuperType)
        {
            if (type.NodeId.IsStandard(StandardIds.Enumeration))
            {
                return BuiltInType.Int32;
            }

            if (type.NodeId is { NamespaceIndex: 0, Number: < StandardIds.BaseDataType })
            {
                return (BuiltInType)type.NodeId.Number;
            }

            if (type.NodeId is { NamespaceIndex: 0, Number: StandardIds.BaseDataType or Number or Integer or UInteger })
            {
                return BuiltInType.Variant;
            }
        }

        return BuiltInType.Null;
    }

    private static bool RankFits(int rank, in Variant value)
    {
        int dimensions = value.Shape == VariantShape.Scalar ? 0 : value.Shape == VariantShape.Array ? 1 : value.Dimensions!.Length;
        return rank switch
        {
            -1 => dimensions == 0,
            -2 => true,
            -3 => dimensions <= 1,
            0 => dimensions >= 1,
            _ => dimensions == rank,
        };
    }

    private static bool TypeFits(TypeNode? type, BuiltInType given)
    {
        for (; type is not null; type = type.SuperType)
        {
            uint number = type.NodeId.NamespaceIndex == 0 ? type.NodeId.Number : 0;
            switch (number)
            {
                case StandardIds.BaseDataType:
                    return true;
                case StandardIds.Enumeration:
                    return given == BuiltInType.Int32;
                case Number:
                    return given is >= BuiltInType.SByte and <= BuiltInType.Double;
                case Integer:
                    return given is BuiltInType.SByte or BuiltInType.Int16 or BuiltInType.Int32 or BuiltInType.Int64;
                case UInteger:
                    return given is BuiltInType.Byte or BuiltInType.UInt16 or BuiltInType.UInt32 or BuiltInType.UInt64;
                case > 0 and <= LastBuiltIn:
                    return number == (uint)given;
                default:
                    break;
            }
        }

        return false;
    }
}
