using EdgeGuard.Modbus.Framing;
using EdgeGuard.Modbus.Pdu;
using EdgeGuard.Modbus.Security;

namespace EdgeGuard.Modbus.Server;

/// <summary>
/// The server's half of a Modbus TCP connection without I/O: received bytes in, answer bytes out, one frame a call.
/// Order of the checks: framing, unit, then those of the request. One engine per connection; the devices are shared.
/// Allocates nothing after construction.
/// </summary>
public sealed class ServerEngine : ModbusServerEngine
{
    private readonly IReadOnlyDictionary<byte, IModbusDevice> _devices;
    private readonly UnknownUnitReaction _unknownUnit;

    /// <summary>Makes an engine for the given devices by unit id.</summary>
    public ServerEngine(
        IReadOnlyDictionary<byte, IModbusDevice> devices,
        UnknownUnitReaction unknownUnit = UnknownUnitReaction.AnswerGatewayPathUnavailable)
    {
        _devices = devices;
        _unknownUnit = unknownUnit;
    }

    /// <summary>What the client of this connection may do; everything unless Modbus/TCP Security gives it a role.</summary>
    public ModbusRight Rights { get; set; } = ModbusRight.Read | ModbusRight.Write;

    /// <inheritdoc/>
    public override int OutputLength => MbapCodec.MaxFrameLength;

    /// <inheritdoc/>
    public override bool EndsBySilence => false;

    /// <inheritdoc/>
    public override ServerStatus Process(ReadOnlySpan<byte> received, Span<byte> output, out int consumed, out int produced)
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
        bool isRefused = true;
        int length = !IsAllowed(frame.Pdu[0]) ? AnswerCodec.WriteException(pdu, frame.Pdu[0], ModbusExceptionCode.IllegalFunction)
            : isKnown ? Processor.Process(device!, frame.Pdu, pdu, out isRefused)
            : AnswerCodec.WriteException(pdu, frame.Pdu[0], ModbusExceptionCode.GatewayPathUnavailable);
        produced = MbapCodec.WriteHeader(output, frame.TransactionId, frame.UnitId, length);
        return isRefused ? ServerStatus.Refused : ServerStatus.Answered;
    }

    /// <summary>Modbus/TCP Security v21: a request the role does not allow is answered with exception 01.</summary>
    private bool IsAllowed(byte function)
    {
        ModbusRight needed = (FunctionCode)function switch
        {
            FunctionCode.WriteSingleCoil or FunctionCode.WriteSingleRegister or FunctionCode.WriteMultipleCoils
                or FunctionCode.WriteMultipleRegisters or FunctionCode.MaskWriteRegister => ModbusRight.Write,
            FunctionCode.ReadWriteMultipleRegisters => ModbusRight.Read | ModbusRight.Write,
            _ => ModbusRight.Read,
        };
        return (Rights & needed) == needed;
    }

    /// <inheritdoc/>
    public override ServerStatus ProcessSilence(ReadOnlySpan<byte> received, Span<byte> output, out int produced)
    {
        produced = 0;
        return ServerStatus.Broken; // a stream with lengths has no silence that means anything
    }
}
