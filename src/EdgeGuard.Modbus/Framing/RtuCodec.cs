using System.Buffers.Binary;
using EdgeGuard.Modbus.Pdu;

namespace EdgeGuard.Modbus.Framing;

/// <summary>
/// RTU frames (Serial Line V1.02, 2.5.1): unit, PDU, CRC low byte first. Only the bytes; where a frame begins and ends
/// on the line (silences) is the business of a serial transport.
/// </summary>
public static class RtuCodec
{
    /// <summary>Longest frame: unit, longest PDU, CRC.</summary>
    public const int MaxFrameLength = 1 + PduLimits.MaxPduLength + CrcLength;

    private const int CrcLength = 2;
    private const int MinFrameLength = 1 + 1 + CrcLength;

    /// <summary>Writes a frame and returns its length.</summary>
    public static int Write(Span<byte> frame, byte unitId, ReadOnlySpan<byte> pdu)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(pdu.Length, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(pdu.Length, PduLimits.MaxPduLength);
        frame[0] = unitId;
        pdu.CopyTo(frame[1..]);
        BinaryPrimitives.WriteUInt16LittleEndian(frame[(1 + pdu.Length)..], Crc16.Compute(frame[..(1 + pdu.Length)]));
        return 1 + pdu.Length + CrcLength;
    }

    /// <summary>Checks a whole frame and takes it apart.</summary>
    public static FrameStatus Read(ReadOnlySpan<byte> frame, out byte unitId, out ReadOnlySpan<byte> pdu)
    {
        unitId = 0;
        pdu = default;
        if (frame.Length is < MinFrameLength or > MaxFrameLength)
        {
            return FrameStatus.BadLength;
        }

        ReadOnlySpan<byte> body = frame[..^CrcLength];
        if (BinaryPrimitives.ReadUInt16LittleEndian(frame[^CrcLength..]) != Crc16.Compute(body))
        {
            return FrameStatus.BadCrc;
        }

        unitId = body[0];
        pdu = body[1..];
        return FrameStatus.Ok;
    }
}
