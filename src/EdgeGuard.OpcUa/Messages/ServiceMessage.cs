namespace EdgeGuard.OpcUa.Messages;

/// <summary>
/// The body of a message: the NodeId of its binary encoding, then the structure (OPC 10000-6, 5.2.9). A request of an
/// unknown type still gives its header, so that the fault carries the right handle.
/// </summary>
public static class ServiceMessage
{
    /// <summary>Writes type and structure.</summary>
    public static void Write(UaWriter writer, IUaStructure message)
    {
        writer.WriteNodeId(new NodeId(message.BinaryEncodingId));
        message.Write(writer);
    }

    // Reads of more nodes than this get an array of their own, so that a spare request stays small.
    private const int SpareNodesMax = 256;

    /// <summary>Decodes a request.</summary>
    /// <param name="body">The whole body of the message.</param>
    /// <param name="limits">Limits of the decoder.</param>
    /// <param name="request">The request, or null on any other status than Good.</param>
    /// <param name="header">The header as far as it could be read, for the fault.</param>
    /// <returns>Good, BadServiceUnsupported, BadDecodingError or BadEncodingLimitsExceeded.</returns>
    public static StatusCode TryReadRequest(ReadOnlySpan<byte> body, UaLimits limits, out IServiceRequest? request, out RequestHeader header) =>
        TryReadRequest(body, limits, spare: null, out request, out header, out _);

    /// <summary>The same; a Read of few nodes is decoded into <paramref name="spare"/>, so that polling allocates next to nothing.</summary>
    /// <param name="body">The whole body of the message.</param>
    /// <param name="limits">Limits of the decoder.</param>
    /// <param name="spare">The request to be used again; null for none.</param>
    /// <param name="request">The request, or null on any other status than Good.</param>
    /// <param name="header">The header as far as it could be read.</param>
    /// <param name="listAt">Where the list of nodes of a Read begins; 0 for any other request.</param>
    internal static StatusCode TryReadRequest(ReadOnlySpan<byte> body, UaLimits limits, ReadRequest? spare, out IServiceRequest? request, out RequestHeader header, out int listAt)
    {
        listAt = 0;
        var reader = new UaReader(body, limits);
        NodeId type = reader.ReadNodeId();
        UaReader atHeader = reader;
        bool isStandard = type is { NamespaceIndex: 0, Type: NodeIdType.Numeric } && !reader.Failed;
        request = !isStandard ? null : type.Number == ReadRequest.BinaryId && spare is not null ? ReadInto(spare, ref reader, out listAt) : RequestDecoder.Read(type.Number, ref reader);
        StatusCode status = Outcome(ref reader, request is not null);
        request = status == StatusCode.Good ? request : null;
        header = request?.RequestHeader ?? PeekHeader(atHeader);
        return status;
    }

    /// <summary>Decodes a response.</summary>
    public static StatusCode TryReadResponse(ReadOnlySpan<byte> body, UaLimits limits, out IServiceResponse? response)
    {
        var reader = new UaReader(body, limits);
        NodeId type = reader.ReadNodeId();
        response = type is { NamespaceIndex: 0, Type: NodeIdType.Numeric } && !reader.Failed ? ResponseDecoder.Read(type.Number, ref reader) : null;
        StatusCode status = Outcome(ref reader, response is not null);
        response = status == StatusCode.Good ? response : null;
        return status;
    }

    /// <summary>Decodes what stands before the list of nodes of a Read; false when it is no Read, or malformed.</summary>
    internal static bool TryReadHead(ReadOnlySpan<byte> body, UaLimits limits, ReadRequest into, out int listAt)
    {
        var reader = new UaReader(body, limits);
        listAt = 0;
        if (!reader.ReadNodeId().IsStandard(ReadRequest.BinaryId))
        {
            return false;
        }

        ReadHead(into, ref reader);
        listAt = reader.Position;
        return !reader.Failed;
    }

    private static void ReadHead(ReadRequest into, ref UaReader reader)
    {
        into.RequestHeader = RequestHeader.Read(ref reader);
        into.MaxAge = reader.ReadDouble();
        into.TimestampsToReturn = (TimestampsToReturn)reader.ReadInt32();
    }

    private static ReadRequest ReadInto(ReadRequest spare, ref UaReader reader, out int listAt)
    {
        ReadHead(spare, ref reader);
        listAt = reader.Position;
        ReadValueId[]? nodes = reader.ReadStructures(spare.NodesToRead);
        if (nodes is null or { Length: <= SpareNodesMax })
        {
            spare.NodesToRead = nodes;
            return spare;
        }

        return new ReadRequest { RequestHeader = spare.RequestHeader, MaxAge = spare.MaxAge, TimestampsToReturn = spare.TimestampsToReturn, NodesToRead = nodes };
    }

    // A copy of the reader as it stood before the header, for a request that could not be decoded whole.
    private static RequestHeader PeekHeader(UaReader reader)
    {
        RequestHeader header = RequestHeader.Read(ref reader);
        return reader.Failed ? new RequestHeader() : header;
    }

    private static StatusCode Outcome(ref UaReader reader, bool known)
    {
        if (reader.Failed)
        {
            return reader.Status;
        }

        return !known ? StatusCode.BadServiceUnsupported : reader.Remaining == 0 ? StatusCode.Good : StatusCode.BadDecodingError;
    }
}
