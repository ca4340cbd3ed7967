using System.Buffers.Binary;

namespace EdgeGuard.Modbus.Pdu;

/// <summary>
/// Requests of functions 01 to 06, 15 and 16 (the others stand in ExtendedRequestCodec). The decoder checks in the order of the state diagrams of the
/// Application Protocol V1.1b3 (figures 11 to 22): function, then quantity, byte count and value, then address plus
/// quantity. So a request that is wrong twice gets the same exception code from us as from any conforming device.
/// </summary>
public static class RequestCodec
{
    private const int HeadLength = 5; // function, address, quantity or value
    private const int WriteHeadLength = 6; // the same and the byte count

    /// <summary>Writes a read request (01 to 04) and returns its length. <paramref name="quantity"/> must keep the limits of the function.</summary>
    public static int WriteRead(Span<byte> pdu, FunctionCode function, ushort address, int quantity)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(quantity, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(quantity, MaxReadQuantity(function));
        return WriteHead(pdu, function, address, (ushort)quantity);
    }

    /// <summary>Writes a request of function 05 and returns its length.</summary>
    public static int WriteSingleCoil(Span<byte> pdu, ushort address, bool value) =>
        WriteHead(pdu, FunctionCode.WriteSingleCoil, address, value ? PduLimits.CoilOn : PduLimits.CoilOff);

    /// <summary>Writes a request of function 06 and returns its length.</summary>
    public static int WriteSingleRegister(Span<byte> pdu, ushort address, ushort value) =>
        WriteHead(pdu, FunctionCode.WriteSingleRegister, address, value);

    /// <summary>Writes a request of function 15 for 1 to 1968 coils and returns its length.</summary>
    public static int WriteMultipleCoils(Span<byte> pdu, ushort address, ReadOnlySpan<bool> values)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(values.Length, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(values.Length, PduLimits.MaxWriteCoils);
        WriteHead(pdu, FunctionCode.WriteMultipleCoils, address, (ushort)values.Length);
        int byteCount = PduBits.ByteCount(values.Length);
        pdu[HeadLength] = (byte)byteCount;
        PduBits.Pack(values, pdu[WriteHeadLength..]);
        return WriteHeadLength + byteCount;
    }

    /// <summary>Writes a request of function 16 for 1 to 123 registers and returns its length.</summary>
    public static int WriteMultipleRegisters(Span<byte> pdu, ushort address, ReadOnlySpan<ushort> values)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(values.Length, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(values.Length, PduLimits.MaxWriteRegisters);
        WriteHead(pdu, FunctionCode.WriteMultipleRegisters, address, (ushort)values.Length);
        pdu[HeadLength] = (byte)(2 * values.Length);
        PduRegisters.Pack(values, pdu[WriteHeadLength..]);
        return WriteHeadLength + (2 * values.Length);
    }

    /// <summary>Decodes a request; anything but <see cref="PduStatus.Ok"/> leaves <paramref name="request"/> empty.</summary>
    public static PduStatus Decode(ReadOnlySpan<byte> pdu, out PduRequest request)
    {
        request = default;
        if (pdu.IsEmpty)
        {
            return PduStatus.Empty;
        }

        FunctionCode function = (FunctionCode)pdu[0];
        return function switch
        {
            FunctionCode.ReadCoils or FunctionCode.ReadDiscreteInputs
                or FunctionCode.ReadHoldingRegisters or FunctionCode.ReadInputRegisters => DecodeRead(pdu, function, out request),
            FunctionCode.WriteSingleCoil or FunctionCode.WriteSingleRegister => DecodeSingle(pdu, function, out request),
            FunctionCode.WriteMultipleCoils or FunctionCode.WriteMultipleRegisters => DecodeMultiple(pdu, function, out request),
            _ => ExtendedRequestCodec.Decode(pdu, function, out request),
        };
    }

    /// <summary>The exception code that answers a decoder verdict (V1.1b3, section 7); None for Ok.</summary>
    public static ModbusExceptionCode ToException(PduStatus status) => status switch
    {
        PduStatus.Ok => ModbusExceptionCode.None,
        PduStatus.UnknownFunction or PduStatus.UnknownSubFunction => ModbusExceptionCode.IllegalFunction,
        PduStatus.BadAddress => ModbusExceptionCode.IllegalDataAddress,
        PduStatus.BadLength or PduStatus.BadQuantity or PduStatus.BadByteCount or PduStatus.BadValue => ModbusExceptionCode.IllegalDataValue,
        _ => ModbusExceptionCode.ServerDeviceFailure,
    };

    private static int MaxReadQuantity(FunctionCode function) => function switch
    {
        FunctionCode.ReadCoils or FunctionCode.ReadDiscreteInputs => PduLimits.MaxReadBits,
        FunctionCode.ReadHoldingRegisters or FunctionCode.ReadInputRegisters => PduLimits.MaxReadRegisters,
        _ => throw new ArgumentOutOfRangeException(nameof(function), function, "Not a read function."),
    };

    private static int WriteHead(Span<byte> pdu, FunctionCode function, ushort address, ushort second)
    {
        pdu[0] = (byte)function;
        BinaryPrimitives.WriteUInt16BigEndian(pdu[1..], address);
        BinaryPrimitives.WriteUInt16BigEndian(pdu[3..], second);
        return HeadLength;
    }

    private static PduStatus DecodeRead(ReadOnlySpan<byte> pdu, FunctionCode function, out PduRequest request)
    {
        request = default;
        if (pdu.Length != HeadLength)
        {
            return PduStatus.BadLength;
        }

        ushort address = BinaryPrimitives.ReadUInt16BigEndian(pdu[1..]);
        int quantity = BinaryPrimitives.ReadUInt16BigEndian(pdu[3..]);
        if (quantity < 1 || quantity > MaxReadQuantity(function)) // figures 11 to 14: 03 before 02
        {
            return PduStatus.BadQuantity;
        }

        if (address + quantity > PduLimits.AddressCount)
        {
            return PduStatus.BadAddress;
        }

        request = new PduRequest(function, address, quantity, default);
        return PduStatus.Ok;
    }

    private static PduStatus DecodeSingle(ReadOnlySpan<byte> pdu, FunctionCode function, out PduRequest request)
    {
        request = default;
        if (pdu.Length != HeadLength)
        {
            return PduStatus.BadLength;
        }

        ushort value = BinaryPrimitives.ReadUInt16BigEndian(pdu[3..]);
        if (function == FunctionCode.WriteSingleCoil && value is not (PduLimits.CoilOn or PduLimits.CoilOff)) // 6.5, figure 15
        {
            return PduStatus.BadValue;
        }

        request = new PduRequest(function, BinaryPrimitives.ReadUInt16BigEndian(pdu[1..]), 1, pdu[3..]);
        return PduStatus.Ok;
    }

    private static PduStatus DecodeMultiple(ReadOnlySpan<byte> pdu, FunctionCode function, out PduRequest request)
    {
        request = default;
        if (pdu.Length < WriteHeadLength)
        {
            return PduStatus.BadLength;
        }

        bool isCoils = function == FunctionCode.WriteMultipleCoils;
        ushort address = BinaryPrimitives.ReadUInt16BigEndian(pdu[1..]);
        int quantity = BinaryPrimitives.ReadUInt16BigEndian(pdu[3..]);
        if (quantity < 1 || quantity > (isCoils ? PduLimits.MaxWriteCoils : PduLimits.MaxWriteRegisters)) // figures 21, 22
        {
            return PduStatus.BadQuantity;
        }

        int byteCount = pdu[HeadLength];
        if (byteCount != (isCoils ? PduBits.ByteCount(quantity) : 2 * quantity))
        {
            return PduStatus.BadByteCount;
        }

        if (pdu.Length != WriteHeadLength + byteCount)
        {
            return PduStatus.BadLength;
        }

        if (address + quantity > PduLimits.AddressCount)
        {
            return PduStatus.BadAddress;
        }

        request = new PduRequest(function, address, quantity, pdu[WriteHeadLength..]);
        return PduStatus.Ok;
    }
}
