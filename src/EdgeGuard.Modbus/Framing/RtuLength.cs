using EdgeGuard.Modbus.Pdu;

namespace EdgeGuard.Modbus.Framing;

/// <summary>
/// Where an RTU frame ends, told from its own bytes. The serial guide (V1.02, 2.5.1.1) ends a frame by silence; a
/// general-purpose system sees the line in pieces and cannot measure 1.5 characters, so length and CRC decide here and
/// silence serves only to find the next beginning after something went wrong. Zero: more bytes are needed to tell;
/// <see cref="Unknown"/>: no frame of this codec begins so.
/// </summary>
public static class RtuLength
{
    /// <summary>No length can be told; only a silence ends this frame.</summary>
    public const int Unknown = -1;

    private const int Overhead = 3; // unit and CRC
    private const int ExceptionLength = Overhead + 2;
    private const int FiveByteLength = Overhead + 5;

    /// <summary>Length of the request frame that begins with <paramref name="bytes"/>.</summary>
    public static int OfRequest(ReadOnlySpan<byte> bytes)
    {
        if (bytes.Length < 2)
        {
            return 0;
        }

        return (FunctionCode)bytes[1] switch
        {
            FunctionCode.ReadCoils or FunctionCode.ReadDiscreteInputs or FunctionCode.ReadHoldingRegisters
                or FunctionCode.ReadInputRegisters or FunctionCode.WriteSingleCoil or FunctionCode.WriteSingleRegister
                or FunctionCode.Diagnostics => FiveByteLength,
            FunctionCode.ReadExceptionStatus => Overhead + 1,
            FunctionCode.WriteMultipleCoils or FunctionCode.WriteMultipleRegisters => Counted(bytes, 6),
            FunctionCode.MaskWriteRegister => Overhead + 7,
            FunctionCode.ReadWriteMultipleRegisters => Counted(bytes, 10),
            FunctionCode.EncapsulatedInterface => Overhead + 4,
            _ => Unknown,
        };
    }

    /// <summary>Length of the answer frame that begins with <paramref name="bytes"/>.</summary>
    public static int OfAnswer(ReadOnlySpan<byte> bytes)
    {
        if (bytes.Length < 2)
        {
            return 0;
        }

        if ((bytes[1] & PduLimits.ExceptionFlag) != 0)
        {
            return ExceptionLength;
        }

        return (FunctionCode)bytes[1] switch
        {
            FunctionCode.ReadCoils or FunctionCode.ReadDiscreteInputs or FunctionCode.ReadHoldingRegisters
                or FunctionCode.ReadInputRegisters or FunctionCode.ReadWriteMultipleRegisters => Counted(bytes, 2),
            FunctionCode.WriteSingleCoil or FunctionCode.WriteSingleRegister or FunctionCode.Diagnostics
                or FunctionCode.WriteMultipleCoils or FunctionCode.WriteMultipleRegisters => FiveByteLength,
            FunctionCode.ReadExceptionStatus => Overhead + 2,
            FunctionCode.MaskWriteRegister => Overhead + 7,
            FunctionCode.EncapsulatedInterface => OfDeviceId(bytes),
            _ => Unknown,
        };
    }

    /// <summary>A frame whose byte count stands at <paramref name="countIndex"/> and counts the bytes up to the CRC.</summary>
    private static int Counted(ReadOnlySpan<byte> bytes, int countIndex)
    {
        if (bytes.Length <= countIndex)
        {
            return 0;
        }

        int length = countIndex + 1 + bytes[countIndex] + 2;
        return length <= RtuCodec.MaxFrameLength ? length : Unknown;
    }

    private static int OfDeviceId(ReadOnlySpan<byte> bytes)
    {
        int pduLength = DeviceIdCodec.PduLength(bytes[1..]);
        return pduLength > 0 ? Overhead + pduLength : pduLength;
    }
}
