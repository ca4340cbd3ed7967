using System.Buffers.Binary;

namespace EdgeGuard.Modbus.Pdu;

/// <summary>
/// Requests of functions 07, 08 (sub-function 0), 22, 23 and 43 / 14. The checks keep the order of the state diagrams of
/// the Application Protocol V1.1b3, section 6, like those of <see cref="RequestCodec"/>: function and sub-function (01),
/// then quantity, byte count and value (03), then address (02). Other sub-functions of 08 count or clear what is kept
/// per serial port and restart a device; nobody needs them from across a network, so they are refused.
/// </summary>
public static class ExtendedRequestCodec
{
    private const int MaskLength = 7; // function, address, AND mask, OR mask
    private const int ReadWriteHeadLength = 10; // function, two addresses, two quantities, byte count
    private const int DeviceIdLength = 4; // function, interface type, access, object
    private const int LoopbackLength = 5; // function, sub-function, two bytes

    /// <summary>Writes a request of function 07 and returns its length.</summary>
    public static int WriteReadExceptionStatus(Span<byte> pdu)
    {
        pdu[0] = (byte)FunctionCode.ReadExceptionStatus;
        return 1;
    }

    /// <summary>Writes a request of function 08, sub-function 0, and returns its length.</summary>
    public static int WriteReturnQueryData(Span<byte> pdu, ushort data)
    {
        pdu[0] = (byte)FunctionCode.Diagnostics;
        BinaryPrimitives.WriteUInt16BigEndian(pdu[1..], 0);
        BinaryPrimitives.WriteUInt16BigEndian(pdu[3..], data);
        return LoopbackLength;
    }

    /// <summary>Writes a request of function 22 and returns its length.</summary>
    public static int WriteMask(Span<byte> pdu, ushort address, ushort andMask, ushort orMask)
    {
        pdu[0] = (byte)FunctionCode.MaskWriteRegister;
        BinaryPrimitives.WriteUInt16BigEndian(pdu[1..], address);
        BinaryPrimitives.WriteUInt16BigEndian(pdu[3..], andMask);
        BinaryPrimitives.WriteUInt16BigEndian(pdu[5..], orMask);
        return MaskLength;
    }

    /// <summary>Writes a request of function 23 that reads 1 to 125 and writes 1 to 121 registers, and returns its length.</summary>
    public static int WriteReadWrite(
        Span<byte> pdu, ushort readAddress, int readQuantity, ushort writeAddress, ReadOnlySpan<ushort> words)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(readQuantity, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(readQuantity, PduLimits.MaxReadRegisters);
        ArgumentOutOfRangeException.ThrowIfLessThan(words.Length, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(words.Length, PduLimits.MaxReadWriteWriteRegisters);
        pdu[0] = (byte)FunctionCode.ReadWriteMultipleRegisters;
        BinaryPrimitives.WriteUInt16BigEndian(pdu[1..], readAddress);
        BinaryPrimitives.WriteUInt16BigEndian(pdu[3..], (ushort)readQuantity);
        BinaryPrimitives.WriteUInt16BigEndian(pdu[5..], writeAddress);
        BinaryPrimitives.WriteUInt16BigEndian(pdu[7..], (ushort)words.Length);
        pdu[9] = (byte)(2 * words.Length);
        PduRegisters.Pack(words, pdu[ReadWriteHeadLength..]);
        return ReadWriteHeadLength + (2 * words.Length);
    }

    /// <summary>Writes a request of function 43, type 14, and returns its length.</summary>
    public static int WriteReadDeviceId(Span<byte> pdu, DeviceIdAccess access, byte objectId)
    {
        if (access is < DeviceIdAccess.Basic or > DeviceIdAccess.Individual)
        {
            throw new ArgumentOutOfRangeException(nameof(access), access, "Not an access of the device identification.");
        }

        pdu[0] = (byte)FunctionCode.EncapsulatedInterface;
        pdu[1] = PduLimits.DeviceIdMeiType;
        pdu[2] = (byte)access;
        pdu[3] = objectId;
        return DeviceIdLength;
    }

    internal static PduStatus Decode(ReadOnlySpan<byte> pdu, FunctionCode function, out PduRequest request)
    {
        request = default;
        return function switch
        {
            FunctionCode.ReadExceptionStatus => DecodeExceptionStatus(pdu, out request),
            FunctionCode.Diagnostics => DecodeDiagnostics(pdu, out request),
            FunctionCode.MaskWriteRegister => DecodeMask(pdu, out request),
            FunctionCode.ReadWriteMultipleRegisters => DecodeReadWrite(pdu, out request),
            FunctionCode.EncapsulatedInterface => DecodeDeviceId(pdu, out request),
            _ => PduStatus.UnknownFunction,
        };
    }

    private static PduStatus DecodeExceptionStatus(ReadOnlySpan<byte> pdu, out PduRequest request)
    {
        bool isWhole = pdu.Length == 1;
        request = isWhole ? new PduRequest(FunctionCode.ReadExceptionStatus, 0, 0, default) : default;
        return isWhole ? PduStatus.Ok : PduStatus.BadLength;
    }

    private static PduStatus DecodeDiagnostics(ReadOnlySpan<byte> pdu, out PduRequest request)
    {
        request = default;
        if (pdu.Length < 3)
        {
            return PduStatus.BadLength;
        }

        if (BinaryPrimitives.ReadUInt16BigEndian(pdu[1..]) != 0) // 6.8: the sub-function is judged with the function
        {
            return PduStatus.UnknownSubFunction;
        }

        if (pdu.Length != LoopbackLength)
        {
            return PduStatus.BadLength;
        }

        request = new PduRequest(FunctionCode.Diagnostics, 0, 0, pdu[3..]);
        return PduStatus.Ok;
    }

    private static PduStatus DecodeMask(ReadOnlySpan<byte> pdu, out PduRequest request)
    {
        bool isWhole = pdu.Length == MaskLength;
        request = isWhole
            ? new PduRequest(FunctionCode.MaskWriteRegister, BinaryPrimitives.ReadUInt16BigEndian(pdu[1..]), 1, pdu[3..])
            : default;
        return isWhole ? PduStatus.Ok : PduStatus.BadLength;
    }

    private static PduStatus DecodeReadWrite(ReadOnlySpan<byte> pdu, out PduRequest request)
    {
        request = default;
        if (pdu.Length < ReadWriteHeadLength)
        {
            return PduStatus.BadLength;
        }

        int readAddress = BinaryPrimitives.ReadUInt16BigEndian(pdu[1..]);
        int readQuantity = BinaryPrimitives.ReadUInt16BigEndian(pdu[3..]);
        int writeAddress = BinaryPrimitives.ReadUInt16BigEndian(pdu[5..]);
        int writeQuantity = BinaryPrimitives.ReadUInt16BigEndian(pdu[7..]);
        if (readQuantity is < 1 or > PduLimits.MaxReadRegisters || writeQuantity is < 1 or > PduLimits.MaxReadWriteWriteRegisters)
        {
            return PduStatus.BadQuantity;
        }

        if (pdu[9] != 2 * writeQuantity)
        {
            return PduStatus.BadByteCount;
        }

        if (pdu.Length != ReadWriteHeadLength + (2 * writeQuantity))
        {
            return PduStatus.BadLength;
        }

        if (readAddress + readQuantity > PduLimits.AddressCount || writeAddress + writeQuantity > PduLimits.AddressCount)
        {
            return PduStatus.BadAddress;
        }

        request = new PduRequest(
            FunctionCode.ReadWriteMultipleRegisters, (ushort)readAddress, readQuantity, pdu[ReadWriteHeadLength..], (ushort)writeAddress);
        return PduStatus.Ok;
    }

    private static PduStatus DecodeDeviceId(ReadOnlySpan<byte> pdu, out PduRequest request)
    {
        request = default;
        if (pdu.Length < 2)
        {
            return PduStatus.BadLength;
        }

        if (pdu[1] != PduLimits.DeviceIdMeiType) // 6.19: the interface type is judged with the function
        {
            return PduStatus.UnknownSubFunction;
        }

        if (pdu.Length != DeviceIdLength)
        {
            return PduStatus.BadLength;
        }

        if ((DeviceIdAccess)pdu[2] is < DeviceIdAccess.Basic or > DeviceIdAccess.Individual) // 6.21: 03
        {
            return PduStatus.BadValue;
        }

        request = new PduRequest(FunctionCode.EncapsulatedInterface, 0, 0, pdu[2..]);
        return PduStatus.Ok;
    }
}
