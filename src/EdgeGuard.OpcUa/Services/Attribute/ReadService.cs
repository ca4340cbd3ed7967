using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.Services;

/// <summary>
/// Read (OPC 10000-4, 5.11.2), written straight into the buffer of the answer: for the value of a variable nothing is
/// allocated.
/// </summary>
public static class ReadService
{
    /// <summary>Writes the whole answer, type and header included.</summary>
    /// <returns>
    /// Good; or the result of the service with nothing written: BadMaxAgeInvalid, BadTimestampsToReturnInvalid,
    /// BadNothingToDo, BadTooManyOperations, or BadResponseTooLarge when the answer does not fit the writer.
    /// </returns>
    public static StatusCode Respond(in ServiceContext context, ReadRequest request, UaWriter writer)
    {
        ArgumentNullException.ThrowIfNull(request);
        ArgumentNullException.ThrowIfNull(writer);
        StatusCode status = Judge(context, request, request.NodesToRead?.Length);
        if (status.IsBad())
        {
            return status;
        }

        int start = writer.Length;
        WriteHead(context, request, request.NodesToRead!.Length, writer);
        foreach (ref readonly ReadValueId id in request.NodesToRead.AsSpan())
        {
            DataValue value = AttributeReader.Select(AttributeReader.Read(context, id), request.TimestampsToReturn);
            writer.WriteDataValue(value);
            if (writer.Overflowed)
            {
                writer.Truncate(start);
                return StatusCode.BadResponseTooLarge;
            }
        }

        return End(writer, start);
    }

    /// <summary>The same for values of variables that were found before; the list of nodes in the request is not looked at.</summary>
    internal static StatusCode Respond(in ServiceContext context, ReadRequest request, ReadOnlySpan<VariableNode> variables, UaWriter writer)
    {
        StatusCode status = Judge(context, request, variables.Length);
        if (status.IsBad())
        {
            return status;
        }

        int start = writer.Length;
        WriteHead(context, request, variables.Length, writer);
        foreach (VariableNode variable in variables)
        {
            writer.WriteDataValue(AttributeReader.Select(AttributeReader.ReadValue(context, variable), request.TimestampsToReturn));
        }

        return End(writer, start);
    }

    // An empty array of DiagnosticInfos: null is accepted by fewer clients.
    private static StatusCode End(UaWriter writer, int start)
    {
        writer.WriteInt32(0);
        if (!writer.Overflowed)
        {
            return StatusCode.Good;
        }

        writer.Truncate(start);
        return StatusCode.BadResponseTooLarge;
    }

    private static StatusCode Judge(in ServiceContext context, ReadRequest request, int? nodes)
    {
        // NaN is refused too.
        if (!(request.MaxAge >= 0))
        {
            return StatusCode.BadMaxAgeInvalid;
        }

        return request.TimestampsToReturn is < TimestampsToReturn.Source or > TimestampsToReturn.Neither
            ? StatusCode.BadTimestampsToReturnInvalid
            : OperationLimits.Judge(nodes, context.Limits.NodesPerRead);
    }

    // The ResponseHeader (OPC 10000-4, 7.34) field by field: time, handle, result, no diagnostics, no strings, no extension.
    private static void WriteHead(in ServiceContext context, ReadRequest request, int nodes, UaWriter writer)
    {
        writer.WriteNodeId(new NodeId(ReadResponse.BinaryId));
        writer.WriteDateTime(context.Now);
        writer.WriteUInt32(request.RequestHeader.RequestHandle);
        writer.WriteStatusCode(StatusCode.Good);
        writer.WriteDiagnosticInfo(null);
        writer.WriteInt32(0);
        writer.WriteExtensionObject(null);
        writer.WriteInt32(nodes);
    }
}
