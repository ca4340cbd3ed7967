using System.Buffers.Binary;
using EdgeGuard.Modbus.Pdu;

namespace EdgeGuard.Modbus.Framing;

/// <summary>
/// The MBAP header of Modbus TCP (Messaging on TCP/IP V1.0b, 3.1.3): transaction, protocol, length, unit. A frame is
/// rejected on what it declares, before its bytes arrive, so no peer can make us wait for more than 260 bytes.
/// </summary>
public static class MbapCodec
{
    /// <summary>Header with the unit identifier, in bytes.</summary>
    public const int HeaderLength = 7;

    /// <summary>Longest frame: header and the longest PDU.</summary>
    public const int MaxFrameLength = HeaderLength + PduLimits.MaxPduLength;

    /// <summary>Smallest value of the length field: unit identifier and function.</summary>
    public const int MinLengthField = 2;

    /// <summary>Largest value of the length field: unit identifier and the longest PDU.</summary>
    public const int MaxLengthField = 1 + PduLimits.MaxPduLength;

    private const int LengthEnd = 6; // the length counts the bytes after itself

    /// <summary>Writes the header in front of a PDU of <paramref name="pduLength"/> bytes, which starts at <see cref="HeaderLength"/>; returns the frame length.</summary>
    public static int WriteHeader(Span<byte> frame, ushort transactionId, byte unitId, int pduLength)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(pduLength, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(pduLength, PduLimits.MaxPduLength);
        BinaryPrimitives.WriteUInt16BigEndian(frame, transactionId);
        BinaryPrimitives.WriteUInt16BigEndian(frame[2..], 0);
        BinaryPrimitives.WriteUInt16BigEndian(frame[4..], (ushort)(1 + pduLength));
        frame[LengthEnd] = unitId;
        return HeaderLength + pduLength;
    }

    /// <summary>Decodes the first frame of <paramref name="bytes"/>; what follows it is left alone.</summary>
    public static FrameStatus Decode(ReadOnlySpan<byte> bytes, out MbapFrame frame)
    {
        frame = default;
        if (bytes.Length >= 4 && BinaryPrimitives.ReadUInt16BigEndian(bytes[2..]) != 0)
        {
            return FrameStatus.BadProtocolId;
        }

        if (bytes.Length < LengthEnd)
        {
            return FrameStatus.NeedMore;
        }

        int length = BinaryPrimitives.ReadUInt16BigEndian(bytes[4..]);
        if (length is < MinLengthField or > MaxLengthField)
        {
            return FrameStatus.BadLength;
        }

        if (bytes.Length < LengthEnd + length)
        {
            return FrameStatus.NeedMore;
        }

        frame = new MbapFrame(BinaryPrimitives.ReadUInt16BigEndian(bytes), bytes[LengthEnd], bytes[HeaderLength..(LengthEnd + length)]);
        return FrameStatus.Ok;
    }
}
