using EdgeGuard.Modbus.Client;
using EdgeGuard.Modbus.Framing;
using EdgeGuard.Modbus.Pdu;

namespace EdgeGuard.Modbus.Server;

/// <summary>
/// The server's half of an RTU line without I/O and without a clock. It hears everything on the line: requests to its
/// own units, requests to others and their answers. Frames are told by length and CRC; a frame whose length cannot be
/// told (an unknown function, a byte count that lies) is judged when the line falls silent, which the transport reports
/// by <see cref="ProcessSilence"/>. A unit it does not have is never answered: on a line that is another device's turn.
/// </summary>
public sealed class RtuServerEngine : ModbusServerEngine
{
    private readonly IModbusDevice?[] _devices = new IModbusDevice?[256];

    /// <summary>Makes an engine for the given devices by unit id, 1 to 247.</summary>
    public RtuServerEngine(IReadOnlyDictionary<byte, IModbusDevice> devices)
    {
        foreach ((byte unitId, IModbusDevice device) in devices)
        {
            _devices[unitId] = device;
        }
    }

    /// <inheritdoc/>
    public override int OutputLength => RtuCodec.MaxFrameLength;

    /// <inheritdoc/>
    public override bool EndsBySilence => true;

    /// <inheritdoc/>
    public override ServerStatus Process(ReadOnlySpan<byte> received, Span<byte> output, out int consumed, out int produced)
    {
        consumed = 0;
        produced = 0;
        if (TryFrame(received, RtuLength.OfRequest(received), out consumed))
        {
            return Carry(received[..consumed], output, out produced);
        }

        // The answer of another device, to the request heard just before.
        if (TryFrame(received, RtuLength.OfAnswer(received), out consumed))
        {
            return ServerStatus.Discarded;
        }

        // Longer than any frame and still none: no silence can make it one.
        return received.Length > RtuCodec.MaxFrameLength ? ServerStatus.Broken : ServerStatus.NeedMore;
    }

    /// <inheritdoc/>
    public override ServerStatus ProcessSilence(ReadOnlySpan<byte> received, Span<byte> output, out int produced)
    {
        produced = 0;
        if (received.IsEmpty)
        {
            return ServerStatus.NeedMore;
        }

        return RtuCodec.Read(received, out _, out _) == FrameStatus.Ok ? Carry(received, output, out produced) : ServerStatus.Broken;
    }

    private static bool TryFrame(ReadOnlySpan<byte> received, int length, out int consumed)
    {
        bool isFrame = length > 0 && received.Length >= length && RtuCodec.Read(received[..length], out _, out _) == FrameStatus.Ok;
        consumed = isFrame ? length : 0;
        return isFrame;
    }

    private ServerStatus Carry(ReadOnlySpan<byte> frame, Span<byte> output, out int produced)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(output.Length, RtuCodec.MaxFrameLength);
        produced = 0;
        RtuCodec.Read(frame, out byte unitId, out ReadOnlySpan<byte> pdu);
        if (IsSilent)
        {
            return ServerStatus.Discarded;
        }

        if (unitId == RtuClientEngine.BroadcastUnitId)
        {
            return Broadcast(pdu);
        }

        if (_devices[unitId] is not { } device || pdu[0] >= PduLimits.ExceptionFlag)
        {
            return ServerStatus.Discarded; // another device's turn, or its exception answer
        }

        int length = Processor.Process(device, pdu, output[1..], out bool isRefused);
        produced = RtuCodec.Write(output, unitId, output.Slice(1, length));
        return isRefused ? ServerStatus.Refused : ServerStatus.Answered;
    }

    private ServerStatus Broadcast(ReadOnlySpan<byte> pdu)
    {
        bool isCarried = false;
        foreach (IModbusDevice? device in _devices)
        {
            isCarried |= device is not null && Processor.Broadcast(device, pdu);
        }

        return isCarried ? ServerStatus.Broadcast : ServerStatus.Discarded;
    }
}
