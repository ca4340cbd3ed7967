namespace EdgeGuard.OpcUa;

// Variant (OPC 10000-6, 5.2.2.16).
public sealed partial class UaWriter
{
    /// <summary>Variant: scalar, array or matrix.</summary>
    public void WriteVariant(Variant value)
    {
        byte shape = value.Shape switch
        {
            VariantShape.Array => 0x80,
            VariantShape.Matrix => 0xC0,
            _ => 0,
        };
        WriteByte((byte)((byte)value.Type | shape));
        if (shape == 0)
        {
            WriteScalar(value);
            return;
        }

        WriteElements(value.Type, value.Elements!);
        if (value.Shape == VariantShape.Matrix)
        {
            WriteInt32Array(value.Dimensions);
        }
    }

    private void WriteScalar(in Variant value)
    {
        switch (value.Type)
        {
            case BuiltInType.Null:
                break;
            case BuiltInType.Boolean or BuiltInType.SByte or BuiltInType.Byte:
                WriteByte(unchecked((byte)value.Bits));
                break;
            case BuiltInType.Int16 or BuiltInType.UInt16:
                WriteUInt16(unchecked((ushort)value.Bits));
                break;
            case BuiltInType.Int32 or BuiltInType.UInt32 or BuiltInType.Float or BuiltInType.StatusCode:
                WriteUInt32(unchecked((uint)value.Bits));
                break;
            case BuiltInType.Int64 or BuiltInType.UInt64 or BuiltInType.Double or BuiltInType.DateTime:
                WriteInt64(value.Bits);
                break;
            case BuiltInType.String or BuiltInType.XmlElement:
                WriteString(value.AsString);
                break;
            case BuiltInType.ByteString:
                WriteByteString(value.AsByteString);
                break;
            default:
                WriteReference(value);
                break;
        }
    }

    private void WriteReference(in Variant value)
    {
        switch (value.Type)
        {
            case BuiltInType.Guid:
                WriteGuid(value.AsGuid);
                break;
            case BuiltInType.NodeId:
                WriteNodeId(value.AsNodeId);
                break;
            case BuiltInType.ExpandedNodeId:
                WriteExpandedNodeId(value.AsExpandedNodeId);
                break;
            case BuiltInType.QualifiedName:
                WriteQualifiedName(value.AsQualifiedName);
                break;
            case BuiltInType.LocalizedText:
                WriteLocalizedText(value.AsLocalizedText);
                break;
            case BuiltInType.ExtensionObject:
                WriteExtensionObject(value.AsExtensionObject);
                break;
            case BuiltInType.DataValue:
                WriteDataValue(value.AsDataValue);
                break;
            default:
                WriteDiagnosticInfo(value.AsDiagnosticInfo);
                break;
        }
    }

    private void WriteElements(BuiltInType type, Array elements)
    {
        switch (type)
        {
            case BuiltInType.Boolean:
                WriteBooleanArray((bool[])elements);
                break;
            case BuiltInType.SByte:
                WritePrimitives((sbyte[])elements);
                break;
            case BuiltInType.Byte:
                WritePrimitives((byte[])elements);
                break;
            case BuiltInType.Int16:
                WritePrimitives((short[])elements);
                break;
            case BuiltInType.UInt16:
                WritePrimitives((ushort[])elements);
                break;
            case BuiltInType.Int32:
                WritePrimitives((int[])elements);
                break;
            case BuiltInType.UInt32:
                WritePrimitives((uint[])elements);
                break;
            case BuiltInType.Int64:
                WritePrimitives((long[])elements);
                break;
            case BuiltInType.UInt64:
                WritePrimitives((ulong[])elements);
                break;
            case BuiltInType.Float:
                WritePrimitives((float[])elements);
                break;
            case BuiltInType.Double:
                WritePrimitives((double[])elements);
                break;
            default:
                WriteOtherElements(type, elements);
                break;
        }
    }

    private void WriteOtherElements(BuiltInType type, Array elements)
    {
        switch (type)
        {
            case BuiltInType.String or BuiltInType.XmlElement:
                WriteStringArray((string?[])elements);
                break;
            case BuiltInType.DateTime:
                WriteDateTimeArray((UaDateTime[])elements);
                break;
            case BuiltInType.Guid:
                WriteGuidArray((Guid[])elements);
                break;
            case BuiltInType.ByteString:
                WriteByteStringArray((byte[]?[])elements);
                break;
            case BuiltInType.NodeId:
                WriteNodeIdArray((NodeId[])elements);
                break;
            case BuiltInType.ExpandedNodeId:
                WriteExpandedNodeIdArray((ExpandedNodeId[])elements);
                break;
            case BuiltInType.StatusCode:
                WriteStatusCodeArray((StatusCode[])elements);
                break;
            case BuiltInType.QualifiedName:
                WriteQualifiedNameArray((QualifiedName[])elements);
                break;
            case BuiltInType.LocalizedText:
                WriteLocalizedTextArray((LocalizedText[])elements);
                break;
            case BuiltInType.ExtensionObject:
                WriteExtensionObjectArray((ExtensionObject?[])elements);
                break;
            case BuiltInType.DataValue:
                WriteDataValueArray((DataValue[])elements);
                break;
            case BuiltInType.Variant:
                WriteVariantArray((Variant[])elements);
                break;
            default:
                WriteDiagnosticInfoArray((DiagnosticInfo?[])elements);
                break;
        }
    }
}
