using EdgeGuard.Core.Signals;
using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Records.Ring;
using EdgeGuard.Service.Configuration;

namespace EdgeGuard.Service.FieldIo;

/// <summary>
/// Reads one block of a link, by one request or, where the device refuses a gap, by one for each used part. Which way is
/// remembered for the run: a device does not grow registers.
/// </summary>
internal sealed class PollReader
{
    private readonly LinkTable _table;
    private readonly IModbusLink _link;
    private readonly LinkFigures _figures;
    private readonly FieldClock _clock;
    private readonly Action _between;
    private readonly PollNews _news;
    private readonly ushort[] _scratch;
    private readonly bool[] _split;

    /// <summary>Allocates the buffer.</summary>
    /// <param name="table">The polls.</param>
    /// <param name="link">The connection.</param>
    /// <param name="figures">Counts reads and splits.</param>
    /// <param name="clock">Times the round trips.</param>
    /// <param name="between">Called between two requests of one block: removals go first.</param>
    /// <param name="news">Hears of refusals.</param>
    public PollReader(LinkTable table, IModbusLink link, LinkFigures figures, FieldClock clock, Action between, PollNews news)
    {
        _table = table;
        _link = link;
        _figures = figures;
        _clock = clock;
        _between = between;
        _news = news;
        _split = new bool[table.Polls.Count];
        int longest = 1;
        foreach (PollRequestTable poll in table.Polls)
        {
            longest = Math.Max(longest, poll.Count);
        }

        _scratch = new ushort[longest];
    }

    /// <summary>Words of the block that was read last.</summary>
    public ReadOnlySpan<ushort> Words(int index) => _scratch.AsSpan(0, _table.Polls[index].Count);

    /// <summary>True when the link held a request of the block read last back, because an earlier answer may still come.</summary>
    public bool WasHeldBack { get; private set; }

    /// <summary>Reads a block; the words are good only if the result is.</summary>
    public ModbusResult Read(int index)
    {
        PollRequestTable poll = _table.Polls[index];
        long heldBack = _figures.HeldBack;
        ModbusResult result = _split[index] ? ReadParts(poll) : Read(poll, new PollSpan(0, poll.Count));
        if (result.Exception == ModbusExceptionCode.IllegalDataAddress && poll.Spans.Count > 1 && !_split[index])
        {
            _split[index] = true;
            _figures.Add(LinkFigure.SplitRequests);
            result = ReadParts(poll);
        }

        if (result.Outcome == ModbusOutcome.DeviceException)
        {
            _news.Refused(index, result.Exception);
        }

        WasHeldBack = _figures.HeldBack != heldBack;
        return result;
    }

    /// <summary>What a failed request means for its block.</summary>
    public static ReadResult Translate(ModbusOutcome outcome) => outcome switch
    {
        ModbusOutcome.Timeout => ReadResult.Timeout,
        ModbusOutcome.BadAnswer => ReadResult.BadAnswer,
        _ => ReadResult.NotConnected,
    };

    private ModbusResult ReadParts(PollRequestTable poll)
    {
        ModbusResult result = default;
        _scratch.AsSpan(0, poll.Count).Clear();
        for (int i = 0; i < poll.Spans.Count; i++)
        {
            _between();
            result = Read(poll, poll.Spans[i]);
            if (!result.IsGood)
            {
                break;
            }
        }

        return result;
    }

    private ModbusResult Read(PollRequestTable poll, PollSpan part)
    {
        Span<ushort> words = _scratch.AsSpan(part.Offset, part.Count);
        var address = (ushort)(poll.Address + part.Offset);
        long sentUs = _clock.NowUs;
        ModbusResult result = poll.Table is ModbusTable.Coils or ModbusTable.DiscreteInputs
            ? _link.ReadBits(poll.UnitId, poll.Table, address, words, _table.TimeoutMs)
            : _link.ReadRegisters(poll.UnitId, poll.Table, address, words, _table.TimeoutMs);
        _figures.AddRead(result);
        _figures.NoteRoundTrip(result.Outcome, _clock.NowUs - sentUs);
        return result;
    }
}
