using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.Services;

/// <summary>
/// Write (OPC 10000-4, 5.11.4). Only values of variables that have a handler are taken, whole, from callers with a role
/// that may; everything else is refused with the code that says why.
/// </summary>
public static class WriteService
{
    /// <summary>Carries out the writes in their order.</summary>
    public static IServiceResponse Respond(in ServiceContext context, WriteRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        StatusCode status = OperationLimits.Judge(request.NodesToWrite?.Length, context.Limits.NodesPerWrite);
        if (status.IsBad())
        {
            return context.Fault(request, status);
        }

        WriteValue[] nodes = request.NodesToWrite!;
        var results = new StatusCode[nodes.Length];
        for (int i = 0; i < nodes.Length; i++)
        {
            results[i] = Write(context, nodes[i]);
        }

        return new WriteResponse { ResponseHeader = context.Header(request), Results = results, DiagnosticInfos = [] };
    }

    private static StatusCode Write(in ServiceContext context, in WriteValue write)
    {
        Node? node = context.Space.Find(write.NodeId);
        if (node is null)
        {
            return StatusCode.BadNodeIdUnknown;
        }

        if (write.AttributeId != (uint)AttributeId.Value || node is not VariableNode variable)
        {
            var id = new ReadValueId { NodeId = write.NodeId, AttributeId = write.AttributeId };
            StatusCode exists = AttributeReader.Read(context, id).Status;
            return exists.IsGood() ? StatusCode.BadNotWritable : StatusCode.BadAttributeIdInvalid;
        }

        StatusCode status = Judge(context, variable, write);
        return status.IsGood() ? variable.WriteHandler!(context.Caller, variable, write.Value) : status;
    }

    private static StatusCode Judge(in ServiceContext context, VariableNode variable, in WriteValue write)
    {
        if (NumericRange.TryParse(write.IndexRange, out NumericRange range).IsBad())
        {
            return StatusCode.BadIndexRangeInvalid;
        }

        if ((variable.AccessLevel & AccessLevels.CurrentWrite) == AccessLevels.None || variable.WriteHandler is null)
        {
            return StatusCode.BadNotWritable;
        }

        if ((variable.UserAccessLevel(context.Caller) & AccessLevels.CurrentWrite) == AccessLevels.None)
        {
            return StatusCode.BadUserAccessDenied;
        }

        if (!range.IsWhole)
        {
            return StatusCode.BadWriteNotSupported;
        }

        return JudgeValue(context.Space, variable, write.Value);
    }

    private static StatusCode JudgeValue(NodeSpace space, VariableNode variable, in DataValue value)
    {
        bool hasStatus = value.Status != StatusCode.Good && (variable.AccessLevel & AccessLevels.StatusWrite) == AccessLevels.None;
        bool hasTime = !(value.SourceTimestamp.IsNull && value.ServerTimestamp.IsNull) && (variable.AccessLevel & AccessLevels.TimestampWrite) == AccessLevels.None;
        if (hasStatus || hasTime)
        {
            return StatusCode.BadWriteNotSupported;
        }

        return DataTypes.Accepts(space, variable.DataType, variable.ValueRank, value.Value) ? StatusCode.Good : StatusCode.BadTypeMismatch;
    }
}
