using EdgeGuard.OpcUa.Transport;

namespace EdgeGuard.OpcUa.SecureChannel;

/// <summary>The clear part of an OPN chunk (OPC 10000-6, 6.7.2.3).</summary>
internal readonly ref struct AsymmetricHeader
{
    // The clause allows a URI of 255 bytes and a thumbprint of 20; the certificate is limited by what is parsed at all.
    private static readonly UaLimits Limits = new() { StringBytesMax = 255, ByteStringBytesMax = PeerCertificate.BytesMax };

    public uint ChannelId { get; private init; }

    public string? PolicyUri { get; private init; }

    public ReadOnlySpan<byte> SenderCertificate { get; private init; }

    public ReadOnlySpan<byte> ReceiverThumbprint { get; private init; }

    /// <summary>Length of the clear part in bytes, the eight of the chunk header included.</summary>
    public int ClearBytes { get; private init; }

    public static StatusCode TryRead(ReadOnlySpan<byte> chunk, out AsymmetricHeader header)
    {
        var reader = new UaReader(chunk[ChunkHeader.HeaderBytes..], Limits);
        uint channelId = reader.ReadUInt32();
        string? policyUri = reader.ReadString();
        ReadOnlySpan<byte> certificate = reader.ReadByteStringBytes(out _);
        ReadOnlySpan<byte> thumbprint = reader.ReadByteStringBytes(out _);
        header = reader.Failed ? default : new AsymmetricHeader
        {
            ChannelId = channelId,
            PolicyUri = policyUri,
            SenderCertificate = certificate,
            ReceiverThumbprint = thumbprint,
            ClearBytes = reader.Position + ChunkHeader.HeaderBytes,
        };
        return reader.Status;
    }

    public static void Write(UaWriter output, uint channelId, SecurityPolicy policy, ApplicationInstance? own, PeerCertificate? peer)
    {
        output.WriteUInt32(channelId);
        output.WriteString(policy.Uri);
        output.WriteByteString(policy.IsSecure ? own!.Der : null);
        output.WriteByteString(policy.IsSecure ? peer!.Thumbprint : null);
    }
}
