using System.Buffers.Binary;
using EdgeGuard.Modbus.Framing;
using EdgeGuard.Modbus.Pdu;

namespace EdgeGuard.Modbus.Server;

/// <summary>
/// What a server makes of a request PDU, whatever framing brought it. Order of the checks as in the state diagrams of
/// the Application Protocol V1.1b3: function, then quantity, byte count and value, then address, then processing. One
/// processor per connection (it owns scratch buffers); the devices are shared. Allocates nothing after construction.
/// </summary>
internal sealed class RequestProcessor
{
    private readonly bool[] _bits = new bool[PduLimits.MaxReadBits];
    private readonly ushort[] _words = new ushort[PduLimits.MaxReadRegisters];

    /// <summary>Carries a request out and writes the answer, an exception included; returns its length.</summary>
    public int Process(IModbusDevice device, ReadOnlySpan<byte> requestPdu, Span<byte> answer, out bool isRefused)
    {
        ModbusExceptionCode exception = Carry(device, requestPdu, answer, out int length);
        isRefused = exception != ModbusExceptionCode.None;
        return isRefused ? AnswerCodec.WriteException(answer, requestPdu[0], exception) : length;
    }

    /// <summary>Carries a broadcast out: a write, without an answer. False when it is none or the device refuses it.</summary>
    public bool Broadcast(IModbusDevice device, ReadOnlySpan<byte> requestPdu)
    {
        bool isWrite = (FunctionCode)requestPdu[0] is FunctionCode.WriteSingleCoil or FunctionCode.WriteSingleRegister
            or FunctionCode.WriteMultipleCoils or FunctionCode.WriteMultipleRegisters or FunctionCode.MaskWriteRegister;
        Span<byte> nobodyReadsThis = stackalloc byte[MbapCodec.MaxFrameLength];
        return isWrite && Carry(device, requestPdu, nobodyReadsThis, out _) == ModbusExceptionCode.None;
    }

    private ModbusExceptionCode Carry(IModbusDevice device, ReadOnlySpan<byte> requestPdu, Span<byte> answer, out int length)
    {
        length = 0;
        try
        {
            if (!device.Offers((FunctionCode)requestPdu[0]))
            {
                return ModbusExceptionCode.IllegalFunction;
            }

            PduStatus status = RequestCodec.Decode(requestPdu, out PduRequest request);
            if (status != PduStatus.Ok)
            {
                return RequestCodec.ToException(status);
            }

            return request.Function switch
            {
                FunctionCode.ReadCoils => ReadBits(device, ModbusTable.Coils, request, answer, out length),
                FunctionCode.ReadDiscreteInputs => ReadBits(device, ModbusTable.DiscreteInputs, request, answer, out length),
                FunctionCode.ReadHoldingRegisters => ReadRegisters(device, ModbusTable.HoldingRegisters, request, answer, out length),
                FunctionCode.ReadInputRegisters => ReadRegisters(device, ModbusTable.InputRegisters, request, answer, out length),
                FunctionCode.ReadExceptionStatus => ReadStatus(device, answer, out length),
                FunctionCode.ReadWriteMultipleRegisters => ReadWrite(device, request, answer, out length),
                FunctionCode.EncapsulatedInterface => DeviceIdAnswer.Write(device, request, answer, out length),
                _ => Echoed(device, request, requestPdu, answer, out length),
            };
        }
        catch (Exception)
        {
            // A device that fails while it acts is what exception 04 is for (V1.1b3, section 7); the client must not hang on it.
            return ModbusExceptionCode.ServerDeviceFailure;
        }
    }

    private ModbusExceptionCode ReadBits(
        IModbusDevice device, ModbusTable table, PduRequest request, Span<byte> answer, out int length)
    {
        Span<bool> bits = _bits.AsSpan(0, request.Quantity);
        bits.Clear();
        ModbusExceptionCode exception = device.ReadBits(table, request.Address, bits);
        length = AnswerCodec.WriteBits(answer, request.Function, bits);
        return exception;
    }

    private ModbusExceptionCode ReadRegisters(
        IModbusDevice device, ModbusTable table, PduRequest request, Span<byte> answer, out int length)
    {
        Span<ushort> words = _words.AsSpan(0, request.Quantity);
        words.Clear();
        ModbusExceptionCode exception = device.ReadRegisters(table, request.Address, words);
        length = AnswerCodec.WriteRegisters(answer, request.Function, words);
        return exception;
    }

    private static ModbusExceptionCode ReadStatus(IModbusDevice device, Span<byte> answer, out int length)
    {
        length = 0;
        if (device is not IModbusDiagnosticDevice diagnostic)
        {
            return ModbusExceptionCode.IllegalFunction;
        }

        ModbusExceptionCode exception = diagnostic.ReadExceptionStatus(out byte status);
        length = AnswerCodec.WriteExceptionStatus(answer, status);
        return exception;
    }

    /// <summary>The write first, then the read (6.17). Both addresses are proved before the write, so that a refused request changes nothing.</summary>
    private ModbusExceptionCode ReadWrite(IModbusDevice device, PduRequest request, Span<byte> answer, out int length)
    {
        length = 0;
        Span<ushort> read = _words.AsSpan(0, request.Quantity);
        ModbusExceptionCode exception = device.ReadRegisters(ModbusTable.HoldingRegisters, request.Address, read);
        if (exception == ModbusExceptionCode.None)
        {
            Span<ushort> written = _words.AsSpan(0, request.Data.Length / 2);
            PduRegisters.Unpack(request.Data, written);
            exception = device.WriteRegisters(request.WriteAddress, written);
        }

        return exception == ModbusExceptionCode.None
            ? ReadRegisters(device, ModbusTable.HoldingRegisters, request, answer, out length)
            : exception;
    }

    private ModbusExceptionCode Echoed(
        IModbusDevice device, PduRequest request, ReadOnlySpan<byte> requestPdu, Span<byte> answer, out int length)
    {
        length = AnswerCodec.WriteEcho(answer, requestPdu);
        switch (request.Function)
        {
            case FunctionCode.Diagnostics:
                return ModbusExceptionCode.None; // return query data: the echo is the answer
            case FunctionCode.MaskWriteRegister:
                return device.MaskWriteRegister(
                    request.Address, BinaryPrimitives.ReadUInt16BigEndian(request.Data), BinaryPrimitives.ReadUInt16BigEndian(request.Data[2..]));
            case FunctionCode.WriteSingleCoil:
                _bits[0] = request.Data[0] == (PduLimits.CoilOn >> 8);
                return device.WriteCoils(request.Address, _bits.AsSpan(0, 1));
            case FunctionCode.WriteMultipleCoils:
                Span<bool> bits = _bits.AsSpan(0, request.Quantity);
                PduBits.Unpack(request.Data, bits);
                return device.WriteCoils(request.Address, bits);
            default:
                Span<ushort> words = _words.AsSpan(0, request.Quantity);
                PduRegisters.Unpack(request.Data, words);
                return device.WriteRegisters(request.Address, words);
        }
    }
}
