using System.Buffers;
using System.Buffers.Binary;
using System.Security.Cryptography;
using EdgeGuard.OpcUa.Transport;

namespace EdgeGuard.OpcUa.SecureChannel;

/// <summary>
/// The secured part of an OPN chunk (OPC 10000-6, 6.7.2.5 and 6.7.4): sequence header, body, padding and signature, signed
/// with the sender's key and encrypted with the receiver's over as many RSA blocks as needed. OPN is signed and encrypted
/// in both modes. Keys above 2048 bits have blocks above 256 bytes, hence the second length byte of the padding.
/// </summary>
internal static class AsymmetricChunkCodec
{
    private const int LongPaddingAboveBytes = 256;

    /// <summary>Appends an OPN chunk; false when the output is full.</summary>
    public static bool TryWrite(UaWriter output, uint channelId, SecurityPolicy policy, ApplicationInstance? own, PeerCertificate? peer, SequenceHeader sequence, ReadOnlySpan<byte> body)
    {
        int start = output.Length;
        ChunkFramer.Begin(output, UaTcpMessageType.OpenChannel, ChunkKind.Final);
        AsymmetricHeader.Write(output, channelId, policy, own, peer);
        int plainStart = output.Length;
        output.WriteUInt32(sequence.SequenceNumber);
        output.WriteUInt32(sequence.RequestId);
        output.WriteBytes(body);
        if (policy.IsSecure)
        {
            SignAndEncrypt(output, start, plainStart, policy, own!, peer!);
        }
        else
        {
            ChunkFramer.End(output, start);
        }

        if (output.Overflowed)
        {
            output.Truncate(start);
            return false;
        }

        return true;
    }

    /// <summary>Decrypts and checks; the body is valid until the scratch buffer is used again.</summary>
    public static StatusCode TryOpen(
        ReadOnlySpan<byte> chunk, int clearBytes, SecurityPolicy policy, ApplicationInstance? own, PeerCertificate? peer, Span<byte> scratch, out SequenceHeader sequence, out ReadOnlySpan<byte> body)
    {
        sequence = default;
        body = default;
        ReadOnlySpan<byte> plain = chunk[clearBytes..];
        if (policy.IsSecure)
        {
            chunk[..clearBytes].CopyTo(scratch);
            if (!own!.TryDecrypt(policy, plain, scratch[clearBytes..], out int plainBytes) || !TryStrip(scratch[..(clearBytes + plainBytes)], clearBytes, policy, own, peer!, out plain))
            {
                return StatusCode.BadSecurityChecksFailed;
            }
        }

        if (plain.Length < SequenceHeader.HeaderBytes)
        {
            return StatusCode.BadSecurityChecksFailed;
        }

        sequence = new SequenceHeader(BinaryPrimitives.ReadUInt32LittleEndian(plain), BinaryPrimitives.ReadUInt32LittleEndian(plain[4..]));
        body = plain[SequenceHeader.HeaderBytes..];
        return StatusCode.Good;
    }

    private static void SignAndEncrypt(UaWriter output, int start, int plainStart, SecurityPolicy policy, ApplicationInstance own, PeerCertificate peer)
    {
        int longPadding = peer.KeyBytes > LongPaddingAboveBytes ? 1 : 0;
        int block = PeerCrypto.PlainBlockBytes(policy, peer.KeyBytes);
        int used = output.Length - plainStart + 1 + longPadding + own.KeyBytes;
        int padding = (block - (used % block)) % block;
        output.Take(padding + 1).Fill((byte)(padding & 0xFF));
        output.Take(longPadding).Fill((byte)(padding >> 8));
        int signed = output.Length;
        output.Take(own.KeyBytes);
        int plainBytes = used + padding;
        int cipherBytes = plainBytes / block * peer.KeyBytes;
        output.Take(cipherBytes - plainBytes);
        if (output.Overflowed)
        {
            return;
        }

        ChunkFramer.End(output, start);
        Span<byte> chunk = output.WrittenForUpdate[start..];
        own.Sign(policy, chunk[..(signed - start)], chunk.Slice(signed - start, own.KeyBytes));
        byte[] plain = ArrayPool<byte>.Shared.Rent(plainBytes);
        chunk.Slice(plainStart - start, plainBytes).CopyTo(plain);
        PeerCrypto.Encrypt(policy, peer, plain.AsSpan(0, plainBytes), chunk[(plainStart - start)..]);
        CryptographicOperations.ZeroMemory(plain.AsSpan(0, plainBytes));
        ArrayPool<byte>.Shared.Return(plain);
    }

    // Signature last, padding before it.
    private static bool TryStrip(ReadOnlySpan<byte> clear, int clearBytes, SecurityPolicy policy, ApplicationInstance own, PeerCertificate peer, out ReadOnlySpan<byte> plain)
    {
        plain = default;
        int longPadding = own.KeyBytes > LongPaddingAboveBytes ? 1 : 0;
        int end = clear.Length - peer.KeyBytes;
        if (end < clearBytes + SequenceHeader.HeaderBytes + 1 + longPadding || !PeerCrypto.Verify(policy, peer, clear[..end], clear[end..]))
        {
            return false;
        }

        int padding = longPadding == 0 ? clear[end - 1] : (clear[end - 1] << 8) | clear[end - 2];
        end -= padding + 1 + longPadding;
        if (end < clearBytes + SequenceHeader.HeaderBytes)
        {
            return false;
        }

        plain = clear[clearBytes..end];
        return true;
    }
}
