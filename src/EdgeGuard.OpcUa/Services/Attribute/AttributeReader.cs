using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.Services;

/// <summary>
/// Reads one attribute of one node (OPC 10000-4, 5.11.2): for Read, and for the first value and the sampling of
/// monitored items. An answer with a Bad status carries no value; the source timestamp is never later than the server
/// timestamp, so that a clock that was set back cannot turn time round.
/// </summary>
public static class AttributeReader
{
    /// <summary>The attribute, with both timestamps.</summary>
    public static DataValue Read(in ServiceContext context, in ReadValueId id)
    {
        Node? node = context.Space.Find(id.NodeId);
        if (node is null)
        {
            return new DataValue(StatusCode.BadNodeIdUnknown);
        }

        if (id.AttributeId == (uint)AttributeId.Value && node is VariableNode variable)
        {
            return ReadValue(context, variable, id);
        }

        Variant attribute = Attribute(node, context.Caller, (AttributeId)id.AttributeId, out bool exists);
        StatusCode status = exists ? StatusCode.Good : StatusCode.BadAttributeIdInvalid;
        if (status.IsGood() && !id.DataEncoding.IsNull)
        {
            status = StatusCode.BadDataEncodingInvalid;
        }

        if (status.IsGood() && !string.IsNullOrEmpty(id.IndexRange))
        {
            status = Cut(ref attribute, id.IndexRange);
        }

        return status.IsGood() ? new DataValue(attribute, status, default, context.Now) : new DataValue(default, status, default, context.Now);
    }

    /// <summary>The value of a variable as a caller may see it, whole, with both timestamps.</summary>
    public static DataValue ReadValue(in ServiceContext context, VariableNode variable)
    {
        AccessLevels allowed = variable.UserAccessLevel(context.Caller);
        if ((allowed & AccessLevels.CurrentRead) == AccessLevels.None)
        {
            bool isReadable = (variable.AccessLevel & AccessLevels.CurrentRead) != AccessLevels.None;
            return new DataValue(default, isReadable ? StatusCode.BadUserAccessDenied : StatusCode.BadNotReadable, default, context.Now);
        }

        return Stamp(context, variable.Current(context.Caller, context.Now));
    }

    /// <summary>A value with the timestamps the client gets: the source's, or the start of the server where it has none.</summary>
    public static DataValue Stamp(in ServiceContext context, in DataValue value)
    {
        UaDateTime source = value.SourceTimestamp.IsNull ? context.Space.StartTime : value.SourceTimestamp;
        UaDateTime server = context.Now < source ? source : context.Now;
        return value with { Value = value.Status.IsBad() ? default : value.Value, SourceTimestamp = source, ServerTimestamp = server, ServerPicoseconds = 0 };
    }

    /// <summary>The value with the timestamps that were asked for.</summary>
    public static DataValue Select(in DataValue value, TimestampsToReturn timestamps) => timestamps switch
    {
        TimestampsToReturn.Source => value with { ServerTimestamp = default, ServerPicoseconds = 0 },
        TimestampsToReturn.Server => value with { SourceTimestamp = default, SourcePicoseconds = 0 },
        TimestampsToReturn.Both => value,
        _ => value with { SourceTimestamp = default, SourcePicoseconds = 0, ServerTimestamp = default, ServerPicoseconds = 0 },
    };

    private static DataValue ReadValue(in ServiceContext context, VariableNode variable, in ReadValueId id)
    {
        DataValue value = ReadValue(context, variable);
        StatusCode refusal = value.Status.IsBad() ? StatusCode.Good : JudgeEncoding(id.DataEncoding, value.Value);
        Variant part = value.Value;
        if (refusal.IsGood() && !string.IsNullOrEmpty(id.IndexRange))
        {
            refusal = Cut(ref part, id.IndexRange);
        }

        return refusal.IsGood() ? value with { Value = part } : new DataValue(default, refusal, value.SourceTimestamp, value.ServerTimestamp);
    }

    private static StatusCode Cut(ref Variant value, string range)
    {
        StatusCode status = NumericRange.TryParse(range, out NumericRange parsed);
        return status.IsGood() ? parsed.TryApply(value, out value) : status;
    }

    // Only structures have encodings, and only the binary one is spoken here (OPC 10000-4, 7.29).
    private static StatusCode JudgeEncoding(in QualifiedName encoding, in Variant value)
    {
        if (encoding.IsNull)
        {
            return StatusCode.Good;
        }

        bool isKnown = encoding is { NamespaceIndex: 0, Name: "Default Binary" or "Default XML" or "Default JSON" };
        if (!isKnown || value.Type != BuiltInType.ExtensionObject)
        {
            return StatusCode.BadDataEncodingInvalid;
        }

        return encoding.Name == "Default Binary" ? StatusCode.Good : StatusCode.BadDataEncodingUnsupported;
    }

    private static Variant Attribute(Node node, CallerContext caller, AttributeId id, out bool exists)
    {
        exists = true;
        switch (id)
        {
            case AttributeId.NodeId:
                return new Variant(node.NodeId);
            case AttributeId.NodeClass:
                return new Variant((int)node.NodeClass);
            case AttributeId.BrowseName:
                return new Variant(node.BrowseName);
            case AttributeId.DisplayName:
                return new Variant(node.DisplayName);
            case AttributeId.Description when node.Description.Text is not null:
                return new Variant(node.Description);
            case AttributeId.WriteMask or AttributeId.UserWriteMask:
                return new Variant(0u);
            default:
                return node switch
                {
                    VariableNode variable => OfVariable(variable, caller, id, out exists),
                    VariableTypeNode type => OfVariableType(type, id, out exists),
                    TypeNode type => OfType(type, id, out exists),
                    _ => OfOther(node, caller, id, out exists),
                };
        }
    }

    private static Variant OfVariable(VariableNode node, CallerContext caller, AttributeId id, out bool exists)
    {
        exists = true;
        switch (id)
        {
            case AttributeId.DataType:
                return new Variant(node.DataType);
            case AttributeId.ValueRank:
                return new Variant(node.ValueRank);
            case AttributeId.ArrayDimensions when node.ArrayDimensions is not null:
                return Variant.FromArray(BuiltInType.UInt32, node.ArrayDimensions);
            case AttributeId.AccessLevel:
                return new Variant((byte)node.AccessLevel);
            case AttributeId.UserAccessLevel:
                return new Variant((byte)node.UserAccessLevel(caller));
            case AttributeId.MinimumSamplingInterval:
                return new Variant(node.MinimumSamplingIntervalMs);
            case AttributeId.Historizing:
                return new Variant(node.Historizing);
            case AttributeId.AccessLevelEx:
                return new Variant(AccessLevelEx(node));
            default:
                exists = false;
                return default;
        }
    }

    // Reads and writes are whole (NonatomicRead and NonatomicWrite stay 0); parts of a value cannot be written, which
    // WriteFullArrayOnly tells (AccessLevelExType, OPC 10000-3, 8.58).
    private static uint AccessLevelEx(VariableNode node)
    {
        const uint WriteFullArrayOnly = 1 << 10;
        bool isWritable = (node.AccessLevel & AccessLevels.CurrentWrite) != AccessLevels.None;
        return (uint)node.AccessLevel | (isWritable ? WriteFullArrayOnly : 0);
    }

    private static Variant OfVariableType(VariableTypeNode node, AttributeId id, out bool exists)
    {
        exists = true;
        switch (id)
        {
            case AttributeId.Value when !node.Value.IsNull:
                return node.Value;
            case AttributeId.DataType:
                return new Variant(node.DataType);
            case AttributeId.ValueRank:
                return new Variant(node.ValueRank);
            case AttributeId.ArrayDimensions when node.ArrayDimensions is not null:
                return Variant.FromArray(BuiltInType.UInt32, node.ArrayDimensions);
            default:
                return OfType(node, id, out exists);
        }
    }

    private static Variant OfType(TypeNode node, AttributeId id, out bool exists)
    {
        exists = true;
        switch (id)
        {
            case AttributeId.IsAbstract:
                return new Variant(node.IsAbstract);
            case AttributeId.Symmetric when node is ReferenceTypeNode type:
                return new Variant(type.Symmetric);
            case AttributeId.InverseName when node is ReferenceTypeNode { InverseName.Text: not null } type:
                return new Variant(type.InverseName);
            case AttributeId.DataTypeDefinition when node is DataTypeNode { Definition: not null } type:
                return new Variant(type.Definition);
            default:
                exists = false;
                return default;
        }
    }

    private static Variant OfOther(Node node, CallerContext caller, AttributeId id, out bool exists)
    {
        exists = true;
        switch (node)
        {
            case ObjectNode item when id == AttributeId.EventNotifier:
                return new Variant(item.EventNotifier);
            case ViewNode view when id == AttributeId.EventNotifier:
                return new Variant(view.EventNotifier);
            case ViewNode view when id == AttributeId.ContainsNoLoops:
                return new Variant(view.ContainsNoLoops);
            case MethodNode method when id == AttributeId.Executable:
                return new Variant(method.IsExecutable);
            case MethodNode method when id == AttributeId.UserExecutable:
                return new Variant(method.IsExecutableBy(caller));
            default:
                exists = false;
                return default;
        }
    }
}
