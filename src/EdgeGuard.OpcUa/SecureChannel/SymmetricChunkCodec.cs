using System.Buffers.Binary;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.Transport;

namespace EdgeGuard.OpcUa.SecureChannel;

/// <summary>
/// MSG and CLO chunks (OPC 10000-6, 6.7.2): header, channel and token in the clear; sequence header, body, padding and
/// signature encrypted where the mode says so. The signature covers everything before it; padding is only there when
/// encrypted, and one length byte is enough because a cipher block is 16 bytes.
/// </summary>
internal static class SymmetricChunkCodec
{
    // Eight bytes of header, channel id, token id.
    public const int ClearBytes = 16;

    /// <summary>Bytes of body that fit into a chunk.</summary>
    public static int BodyBytesMax(MessageSecurityMode mode, int chunkBytesMax)
    {
        int room = chunkBytesMax - ClearBytes;
        return mode switch
        {
            MessageSecurityMode.None => room - SequenceHeader.HeaderBytes,
            MessageSecurityMode.Sign => room - SequenceHeader.HeaderBytes - ChannelKeys.SignatureBytes,
            _ => (room / ChannelKeys.CipherBlockBytes * ChannelKeys.CipherBlockBytes) - SequenceHeader.HeaderBytes - 1 - ChannelKeys.SignatureBytes,
        };
    }

    /// <summary>Appends a secured chunk; false, and nothing appended, when the output is full.</summary>
    public static bool TryWrite(UaWriter output, UaTcpMessageType type, ChunkKind kind, uint channelId, ChannelToken token, SequenceHeader sequence, ReadOnlySpan<byte> body)
    {
        int start = output.Length;
        ChunkFramer.Begin(output, type, kind);
        output.WriteUInt32(channelId);
        output.WriteUInt32(token.TokenId);
        output.WriteUInt32(sequence.SequenceNumber);
        output.WriteUInt32(sequence.RequestId);
        output.WriteBytes(body);
        if (token.Mode == MessageSecurityMode.SignAndEncrypt)
        {
            WritePadding(output, SequenceHeader.HeaderBytes + body.Length + 1 + ChannelKeys.SignatureBytes);
        }

        int signed = output.Length;
        if (token.SendKeys is not null)
        {
            output.Take(ChannelKeys.SignatureBytes);
        }

        if (output.Overflowed)
        {
            output.Truncate(start);
            return false;
        }

        ChunkFramer.End(output, start);
        Secure(output, start, signed, token);
        return true;
    }

    /// <summary>Decrypts in place and checks; every failure of security has the same status.</summary>
    public static StatusCode TryOpen(Span<byte> chunk, ChannelToken token, out SequenceHeader sequence, out ReadOnlySpan<byte> body)
    {
        sequence = default;
        body = default;
        int end = chunk.Length;
        if (token.ReceiveKeys is { } keys)
        {
            bool encrypted = token.Mode == MessageSecurityMode.SignAndEncrypt;
            Span<byte> secured = chunk[ClearBytes..];
            int least = SequenceHeader.HeaderBytes + ChannelKeys.SignatureBytes;
            if (secured.Length < least || (encrypted && secured.Length % ChannelKeys.CipherBlockBytes != 0))
            {
                return StatusCode.BadSecurityChecksFailed;
            }

            if (encrypted)
            {
                keys.Decrypt(secured);
            }

            end -= ChannelKeys.SignatureBytes;
            if (!keys.Verify(chunk[..end], chunk[end..]))
            {
                return StatusCode.BadSecurityChecksFailed;
            }

            // The signature is valid here, so the padding length is the peer's own and tells an attacker nothing.
            end -= encrypted ? chunk[end - 1] + 1 : 0;
        }

        if (end < ClearBytes + SequenceHeader.HeaderBytes)
        {
            return StatusCode.BadSecurityChecksFailed;
        }

        sequence = new SequenceHeader(BinaryPrimitives.ReadUInt32LittleEndian(chunk[ClearBytes..]), BinaryPrimitives.ReadUInt32LittleEndian(chunk[(ClearBytes + 4)..]));
        body = chunk[(ClearBytes + SequenceHeader.HeaderBytes)..end];
        return StatusCode.Good;
    }

    private static void WritePadding(UaWriter output, int used)
    {
        int padding = (ChannelKeys.CipherBlockBytes - (used % ChannelKeys.CipherBlockBytes)) % ChannelKeys.CipherBlockBytes;
        output.Take(padding + 1).Fill((byte)padding);
    }

    private static void Secure(UaWriter output, int start, int signed, ChannelToken token)
    {
        if (token.SendKeys is not { } keys)
        {
            return;
        }

        Span<byte> written = output.WrittenForUpdate;
        keys.Sign(written[start..signed], written[signed..]);
        if (token.Mode == MessageSecurityMode.SignAndEncrypt)
        {
            keys.Encrypt(output.Buffer, start + ClearBytes, output.Length - start - ClearBytes);
        }
    }
}
