using System.Buffers.Binary;

namespace EdgeGuard.OpcUa.Transport;

/// <summary>Cuts a byte stream into chunks. A declared length is judged as soon as the header is there, before its bytes arrive.</summary>
public static class ChunkFramer
{
    /// <summary>Looks at the front of <paramref name="available"/>.</summary>
    /// <param name="available">Bytes received and not consumed.</param>
    /// <param name="bytesMax">Largest chunk agreed for this direction.</param>
    /// <param name="header">The header, when there are eight bytes and they are valid.</param>
    /// <param name="error">Why the status is Invalid.</param>
    public static FrameStatus Peek(ReadOnlySpan<byte> available, int bytesMax, out ChunkHeader header, out StatusCode error)
    {
        (header, error) = (default, StatusCode.Good);
        if (available.Length < ChunkHeader.HeaderBytes)
        {
            return FrameStatus.Incomplete;
        }

        UaTcpMessageType type = TypeOf(available);
        var kind = (ChunkKind)available[3];
        bool kindAllowed = kind == ChunkKind.Final || (type >= UaTcpMessageType.Message && kind is ChunkKind.Intermediate or ChunkKind.Abort);
        if (type == UaTcpMessageType.Unknown || !kindAllowed)
        {
            error = StatusCode.BadTcpMessageTypeInvalid;
            return FrameStatus.Invalid;
        }

        uint bytes = BinaryPrimitives.ReadUInt32LittleEndian(available[4..]);
        if (bytes > (uint)bytesMax || bytes < ChunkHeader.HeaderBytes)
        {
            error = bytes > (uint)bytesMax ? StatusCode.BadTcpMessageTooLarge : StatusCode.BadDecodingError;
            return FrameStatus.Invalid;
        }

        header = new ChunkHeader(type, kind, (int)bytes);
        return available.Length < header.Bytes ? FrameStatus.Incomplete : FrameStatus.Complete;
    }

    /// <summary>The three letters of a type.</summary>
    public static ReadOnlySpan<byte> Letters(UaTcpMessageType type) => type switch
    {
        UaTcpMessageType.Hello => "HEL"u8,
        UaTcpMessageType.Acknowledge => "ACK"u8,
        UaTcpMessageType.Error => "ERR"u8,
        UaTcpMessageType.ReverseHello => "RHE"u8,
        UaTcpMessageType.OpenChannel => "OPN"u8,
        UaTcpMessageType.Message => "MSG"u8,
        UaTcpMessageType.CloseChannel => "CLO"u8,
        _ => "???"u8,
    };

    /// <summary>Writes a header; the length is filled in by <see cref="End"/>.</summary>
    public static void Begin(UaWriter writer, UaTcpMessageType type, ChunkKind kind)
    {
        writer.WriteBytes(Letters(type));
        writer.WriteByte((byte)kind);
        writer.WriteUInt32(0);
    }

    /// <summary>Fills in the length of the chunk that began at <paramref name="start"/>.</summary>
    public static void End(UaWriter writer, int start) => writer.PatchInt32(start + 4, writer.Length - start);

    private static UaTcpMessageType TypeOf(ReadOnlySpan<byte> header)
    {
        ReadOnlySpan<byte> letters = header[..3];
        for (UaTcpMessageType type = UaTcpMessageType.Hello; type <= UaTcpMessageType.CloseChannel; type++)
        {
            if (letters.SequenceEqual(Letters(type)))
            {
                return type;
            }
        }

        return UaTcpMessageType.Unknown;
    }
}
