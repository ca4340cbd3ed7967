using EdgeGuard.Modbus.Framing;
using EdgeGuard.Modbus.Pdu;

namespace EdgeGuard.Modbus.Server;

/// <summary>
/// The server's half of a connection without I/O: received bytes in, answer bytes out, one frame a call. Order of the
/// checks: framing, unit, then function, quantity, address, processing as in the state diagrams of the Application
/// Protocol V1.1b3. One engine per connection (it owns scratch buffers); the devices are shared. Allocates nothing
/// after construction.
/// </summary>
public sealed class ServerEngine
{
    private readonly IReadOnlyDictionary<byte, IModbusDevice> _devices;
    private readonly UnknownUnitReaction _unknownUnit;
    private readonly bool[] _bits = new bool[PduLimits.MaxReadBits];
    private readonly ushort[] _words = new ushort[PduLimits.MaxReadRegisters];

    /// <summary>Makes an engine for the given devices by unit id.</summary>
    public ServerEngine(
        IReadOnlyDictionary<byte, IModbusDevice> devices,
        UnknownUnitReaction unknownUnit = UnknownUnitReaction.AnswerGatewayPathUnavailable)
    {
        _devices = devices;
        _unknownUnit = unknownUnit;
    }

    /// <summary>While true, whole requests are discarded: neither carried out nor answered.</summary>
    public bool IsSilent { get; set; }

    /// <summary>Processes the first frame of the received bytes.</summary>
    /// <param name="received">All bytes received and not yet consumed.</param>
    /// <param name="output">Takes the answer; at least <see cref="MbapCodec.MaxFrameLength"/> bytes.</param>
    /// <param name="consumed">Bytes done with; never more than there are.</param>
    /// <param name="produced">Bytes of the answer.</param>
    public ServerStatus Process(ReadOnlySpan<byte> received, Span<byte> output, out int consumed, out int produced)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(output.Length, MbapCodec.MaxFrameLength);
        consumed = 0;
        produced = 0;
        FrameStatus framing = MbapCodec.Decode(received, out MbapFrame frame);
        if (framing == FrameStatus.NeedMore)
        {
            return ServerStatus.NeedMore;
        }

        if (framing != FrameStatus.Ok)
        {
            return ServerStatus.Broken;
        }

        consumed = frame.FrameLength;
        bool isKnown = _devices.TryGetValue(frame.UnitId, out IModbusDevice? device);
        if (IsSilent || (!isKnown && _unknownUnit == UnknownUnitReaction.StaySilent))
        {
            return ServerStatus.Discarded;
        }

        Span<byte> pdu = output[MbapCodec.HeaderLength..];
        int length = 0;
        ModbusExceptionCode exception = isKnown
            ? Carry(device!, frame.Pdu, pdu, out length)
            : ModbusExceptionCode.GatewayPathUnavailable;
        if (exception != ModbusExceptionCode.None)
        {
            length = AnswerCodec.WriteException(pdu, frame.Pdu[0], exception);
        }

        produced = MbapCodec.WriteHeader(output, frame.TransactionId, frame.UnitId, length);
        return exception == ModbusExceptionCode.None ? ServerStatus.Answered : ServerStatus.Refused;
    }

    private ModbusExceptionCode Carry(IModbusDevice device, ReadOnlySpan<byte> requestPdu, Span<byte> answer, out int length)
    {
        length = 0;
        PduStatus status = RequestCodec.Decode(requestPdu, out PduRequest request);
        if (status != PduStatus.Ok)
        {
            return RequestCodec.ToException(status);
        }

        try
        {
            return request.Function switch
            {
                FunctionCode.ReadCoils => ReadBits(device, ModbusTable.Coils, request, answer, out length),
                FunctionCode.ReadDiscreteInputs => ReadBits(device, ModbusTable.DiscreteInputs, request, answer, out length),
                FunctionCode.ReadHoldingRegisters => ReadRegisters(device, ModbusTable.HoldingRegisters, request, answer, out length),
                FunctionCode.ReadInputRegisters => ReadRegisters(device, ModbusTable.InputRegisters, request, answer, out length),
                _ => Write(device, request, requestPdu, answer, out length),
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

    private ModbusExceptionCode Write(
        IModbusDevice device, PduRequest request, ReadOnlySpan<byte> requestPdu, Span<byte> answer, out int length)
    {
        length = AnswerCodec.WriteEcho(answer, requestPdu);
        if (request.Function is FunctionCode.WriteSingleCoil)
        {
            _bits[0] = request.Data[0] == (PduLimits.CoilOn >> 8);
            return device.WriteCoils(request.Address, _bits.AsSpan(0, 1));
        }

        if (request.Function is FunctionCode.WriteMultipleCoils)
        {
            Span<bool> bits = _bits.AsSpan(0, request.Quantity);
            PduBits.Unpack(request.Data, bits);
            return device.WriteCoils(request.Address, bits);
        }

        Span<ushort> words = _words.AsSpan(0, request.Quantity);
        PduRegisters.Unpack(request.Data, words);
        return device.WriteRegisters(request.Address, words);
    }
}
