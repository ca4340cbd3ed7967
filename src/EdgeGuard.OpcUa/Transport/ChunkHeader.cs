namespace EdgeGuard.OpcUa.Transport;

/// <summary>The eight bytes before every message.</summary>
/// <param name="Type">Message type.</param>
/// <param name="Kind">Whether more follows; Final for HEL, ACK, ERR, RHE.</param>
/// <param name="Bytes">Length of the whole chunk in bytes, these eight included.</param>
public readonly record struct ChunkHeader(UaTcpMessageType Type, ChunkKind Kind, int Bytes)
{
    /// <summary>Length of the header itself in bytes.</summary>
    public const int HeaderBytes = 8;
}
