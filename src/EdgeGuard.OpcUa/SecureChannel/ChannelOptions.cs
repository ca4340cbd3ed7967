using EdgeGuard.OpcUa.Transport;

namespace EdgeGuard.OpcUa.SecureChannel;

/// <summary>What server and client connections have in common.</summary>
public record ChannelOptions
{
    /// <summary>Limits offered in the handshake.</summary>
    public TransportLimits Limits { get; init; } = new();

    /// <summary>Certificate and key of this application; null allows only the policy None.</summary>
    public ApplicationInstance? Instance { get; init; }

    /// <summary>Judge of the peer's certificate; null refuses every certificate.</summary>
    public ICertificateJudge? Judge { get; init; }

    /// <summary>Time for handshake and opening together, in milliseconds.</summary>
    public int HandshakeMs { get; init; } = 10_000;

    /// <summary>Most bytes that wait to be sent; a peer that reads too slowly for this is cut off.</summary>
    public int OutputBytesMax { get; init; } = 33_554_432;
}
