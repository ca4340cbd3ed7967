using System.Text;

namespace EdgeGuard.OpcUa.Transport;

/// <summary>The handshake messages of UA-TCP (OPC 10000-6, 7.1.2.3 to 7.1.2.6). Readers take the chunk's body, without the header.</summary>
public static class UaTcpCodec
{
    /// <summary>Longest URL in a handshake, in bytes (7.1.2.3).</summary>
    public const int UrlBytesMax = 4096;

    private static readonly UaLimits Limits = new() { StringBytesMax = UrlBytesMax };

    /// <summary>Writes HEL.</summary>
    public static void WriteHello(UaWriter writer, in HelloMessage hello)
    {
        int start = writer.Length;
        ChunkFramer.Begin(writer, UaTcpMessageType.Hello, ChunkKind.Final);
        writer.WriteUInt32(hello.ProtocolVersion);
        writer.WriteUInt32(hello.ReceiveBufferBytes);
        writer.WriteUInt32(hello.SendBufferBytes);
        writer.WriteUInt32(hello.MessageBytesMax);
        writer.WriteUInt32(hello.ChunkCountMax);
        writer.WriteString(hello.EndpointUrl);
        ChunkFramer.End(writer, start);
    }

    /// <summary>Reads HEL; a URL above the limit is BadTcpEndpointUrlInvalid.</summary>
    public static StatusCode TryReadHello(ReadOnlySpan<byte> body, out HelloMessage hello)
    {
        var reader = new UaReader(body, Limits);
        hello = new HelloMessage(reader.ReadUInt32(), reader.ReadUInt32(), reader.ReadUInt32(), reader.ReadUInt32(), reader.ReadUInt32(), reader.ReadString());
        return reader.Status == StatusCode.BadEncodingLimitsExceeded ? StatusCode.BadTcpEndpointUrlInvalid : Whole(ref reader);
    }

    /// <summary>Writes ACK.</summary>
    public static void WriteAcknowledge(UaWriter writer, in AcknowledgeMessage acknowledge)
    {
        int start = writer.Length;
        ChunkFramer.Begin(writer, UaTcpMessageType.Acknowledge, ChunkKind.Final);
        writer.WriteUInt32(acknowledge.ProtocolVersion);
        writer.WriteUInt32(acknowledge.ReceiveBufferBytes);
        writer.WriteUInt32(acknowledge.SendBufferBytes);
        writer.WriteUInt32(acknowledge.MessageBytesMax);
        writer.WriteUInt32(acknowledge.ChunkCountMax);
        ChunkFramer.End(writer, start);
    }

    /// <summary>Reads ACK.</summary>
    public static StatusCode TryReadAcknowledge(ReadOnlySpan<byte> body, out AcknowledgeMessage acknowledge)
    {
        var reader = new UaReader(body, Limits);
        acknowledge = new AcknowledgeMessage(reader.ReadUInt32(), reader.ReadUInt32(), reader.ReadUInt32(), reader.ReadUInt32(), reader.ReadUInt32());
        return Whole(ref reader);
    }

    /// <summary>Writes ERR; the reason is cut to the 4096 bytes that are allowed.</summary>
    public static void WriteError(UaWriter writer, StatusCode error, string? reason)
    {
        int start = writer.Length;
        ChunkFramer.Begin(writer, UaTcpMessageType.Error, ChunkKind.Final);
        writer.WriteStatusCode(error);
        writer.WriteString(reason is not null && Encoding.UTF8.GetByteCount(reason) > UrlBytesMax ? reason[..(UrlBytesMax / 4)] : reason);
        ChunkFramer.End(writer, start);
    }

    /// <summary>Reads ERR, or the body of an abort chunk, which has the same form (6.7.3).</summary>
    public static StatusCode TryReadError(ReadOnlySpan<byte> body, out StatusCode error, out string? reason)
    {
        var reader = new UaReader(body, Limits);
        error = reader.ReadStatusCode();
        reason = reader.ReadString();
        return Whole(ref reader);
    }

    /// <summary>Reads RHE: the server's URI and the URL to be used in HEL.</summary>
    public static StatusCode TryReadReverseHello(ReadOnlySpan<byte> body, out string? serverUri, out string? endpointUrl)
    {
        var reader = new UaReader(body, Limits);
        serverUri = reader.ReadString();
        endpointUrl = reader.ReadString();
        return Whole(ref reader);
    }

    /// <summary>Writes RHE.</summary>
    public static void WriteReverseHello(UaWriter writer, string serverUri, string endpointUrl)
    {
        int start = writer.Length;
        ChunkFramer.Begin(writer, UaTcpMessageType.ReverseHello, ChunkKind.Final);
        writer.WriteString(serverUri);
        writer.WriteString(endpointUrl);
        ChunkFramer.End(writer, start);
    }

    private static StatusCode Whole(ref UaReader reader) => reader.Failed ? reader.Status : reader.Remaining == 0 ? StatusCode.Good : StatusCode.BadDecodingError;
}
