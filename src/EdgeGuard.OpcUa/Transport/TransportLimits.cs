namespace EdgeGuard.OpcUa.Transport;

/// <summary>
/// Limits of one side of a connection, as offered in the handshake, and the rule that joins both sides' limits
/// (OPC 10000-6, 7.1.2.3 and 7.1.2.4). Unlike on the wire, there is always a limit.
/// </summary>
public sealed record TransportLimits
{
    /// <summary>Least chunk a peer may ask for, bytes.</summary>
    public const int ChunkBytesMin = 1024;

    /// <summary>Least chunk this side must be able to take and send, bytes.</summary>
    public const int OwnChunkBytesMin = 8192;

    /// <summary>Largest chunk received, bytes.</summary>
    public int ReceiveChunkBytesMax { get; init; } = 65_536;

    /// <summary>Largest chunk sent, bytes.</summary>
    public int SendChunkBytesMax { get; init; } = 65_536;

    /// <summary>Largest message received, bytes of body.</summary>
    public int ReceiveMessageBytesMax { get; init; } = 4_194_304;

    /// <summary>Most chunks in a message received.</summary>
    public int ReceiveChunkCountMax { get; init; } = 128;

    /// <summary>Largest message sent, bytes of body.</summary>
    public int SendMessageBytesMax { get; init; } = 16_777_216;

    /// <summary>Most chunks in a message sent.</summary>
    public int SendChunkCountMax { get; init; } = 4096;

    /// <summary>HEL of a client with these limits.</summary>
    public HelloMessage ToHello(string endpointUrl) =>
        new(0, (uint)ReceiveChunkBytesMax, (uint)SendChunkBytesMax, (uint)ReceiveMessageBytesMax, (uint)ReceiveChunkCountMax, endpointUrl);

    /// <summary>ACK of a server, once the limits are agreed.</summary>
    public AcknowledgeMessage ToAcknowledge() =>
        new(0, (uint)ReceiveChunkBytesMax, (uint)SendChunkBytesMax, (uint)ReceiveMessageBytesMax, (uint)ReceiveChunkCountMax);

    /// <summary>A server's limits after HEL: none above what the client asked. False when the client's buffers are below the least allowed.</summary>
    public bool TryAgree(in HelloMessage hello, out TransportLimits agreed) =>
        TryAgree(hello.ReceiveBufferBytes, hello.SendBufferBytes, hello.MessageBytesMax, hello.ChunkCountMax, out agreed);

    /// <summary>A client's limits after ACK.</summary>
    public bool TryAgree(in AcknowledgeMessage acknowledge, out TransportLimits agreed) =>
        TryAgree(acknowledge.ReceiveBufferBytes, acknowledge.SendBufferBytes, acknowledge.MessageBytesMax, acknowledge.ChunkCountMax, out agreed);

    private bool TryAgree(uint peerReceives, uint peerSends, uint messageBytesMax, uint chunkCountMax, out TransportLimits agreed)
    {
        agreed = this with
        {
            ReceiveChunkBytesMax = (int)Math.Min((uint)ReceiveChunkBytesMax, peerSends),
            SendChunkBytesMax = (int)Math.Min((uint)SendChunkBytesMax, peerReceives),
            SendMessageBytesMax = Lesser(SendMessageBytesMax, messageBytesMax),
            SendChunkCountMax = Lesser(SendChunkCountMax, chunkCountMax),
        };
        return peerReceives >= ChunkBytesMin && peerSends >= ChunkBytesMin;
    }

    private static int Lesser(int own, uint peers) => peers == 0 ? own : (int)Math.Min((uint)own, peers);
}
