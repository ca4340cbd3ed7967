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
public sealed class RtuServerEngine
{
    private readonly IModbusDevice?[] _devices = new IModbusDevice?[256];
    private readonly RequestProcessor _processor = new();

    /// <summary>Makes an engine for the given devices by unit id, 1 to 247.</summary>
    public RtuServerEngine(IReadOnlyDictionary<byte, IModbusDevice> devices)
    {
        foreach ((byte unitId, IModbusDevice device) in devices)
        {
            _devices[unitId] = device;
        }
    }

    /// <summary>While true, whole requests are discarded: neither carried out nor answered.</summary>
    public bool IsSilent { get; set; }

    /// <summary>Processes the first frame of the received bytes; bytes whose end cannot be told stay until the line is silent.</summary>
    /// <param name="received">All bytes received and not yet consumed.</param>
    /// <param name="output">Takes the answer; at least <see cref="RtuCodec.MaxFrameLength"/> bytes.</param>
    /// <param name="consumed">Bytes done with; never more than there are.</param>
    /// <param name="produced">Bytes of the answer; 0 when none is due.</param>
    public ServerStatus Process(ReadOnlySpan<byte> received, Span<byte> output, out int consumed, out int produced)
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

        return ServerStatus.NeedMore;
    }

    /// <summary>The line has been silent: what was received is one frame, or nothing.</summary>
    /// <param name="received">All bytes received and not yet consumed; all are done with afterwards.</param>
    /// <param name="output">Takes the answer; at least <see cref="RtuCodec.MaxFrameLength"/> bytes.</param>
    /// <param name="produced">Bytes of the answer; 0 when none is due.</param>
    /// <returns>Broken for bytes that are no frame: noise, a cut frame, a wrong CRC.</returns>
    public ServerStatus ProcessSilence(ReadOnlySpan<byte> received, Span<byte> output, out int produced)
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

        int length = _processor.Process(device, pdu, output[1..], out bool isRefused);
        produced = RtuCodec.Write(output, unitId, output.Slice(1, length));
        return isRefused ? ServerStatus.Refused : ServerStatus.Answered;
    }

    private ServerStatus Broadcast(ReadOnlySpan<byte> pdu)
    {
        bool isCarried = false;
        foreach (IModbusDevice? device in _devices)
        {
            isCarried |= device is not null && _processor.Broadcast(device, pdu);
        }

        return isCarried ? ServerStatus.Broadcast : ServerStatus.Discarded;
    }
}
