using EdgeGuard.Core.Signals;
using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Client;

namespace EdgeGuard.Service.FieldIo;

/// <summary>
/// Everything one link does, step by step, without a thread or a timer of its own; the worker decides when. The rules:
/// de-energising writes go first and between any two requests; any failure closes the connection, marks every block
/// of the link and fails the waiting energising writes; what remains waiting (only de-energising) is sent before the
/// first poll of the next connection. A late answer dies with the closed connection.
/// </summary>
public sealed class LinkEngine
{
    private readonly LinkTable _table;
    private readonly IModbusLink _link;
    private readonly IModbusDiagnosticLink? _diagnostics;
    private readonly FieldClock _clock;
    private readonly ushort[] _scratch;
    private readonly ushort[] _writeWords = new ushort[2];
    private readonly PollSchedule _schedule;
    private readonly bool[] _split;
    private int _firstPoll;
    private int _online;

    /// <summary>Allocates slots for every poll and every written point of the link.</summary>
    public LinkEngine(LinkTable table, IModbusLink link, FieldClock clock)
    {
        ArgumentNullException.ThrowIfNull(table);
        _table = table;
        _link = link;
        _diagnostics = link as IModbusDiagnosticLink;
        _clock = clock;
        Blocks = new BlockSlot[table.Polls.Count];
        int longest = 1;
        for (int i = 0; i < Blocks.Length; i++)
        {
            Blocks[i] = new BlockSlot(table.Polls[i].Count);
            longest = Math.Max(longest, table.Polls[i].Count);
        }

        _scratch = new ushort[longest];
        _split = new bool[Blocks.Length];
        _schedule = new PollSchedule(table.Polls);
        Commands = new CommandSlot[table.Writes.Count];
        for (int i = 0; i < Commands.Length; i++)
        {
            Commands[i] = new CommandSlot();
        }
    }

    /// <summary>Configuration of the link.</summary>
    public LinkTable Table => _table;

    /// <summary>Slot of each poll request, in the order of <see cref="LinkTable.Polls"/>.</summary>
    public BlockSlot[] Blocks { get; }

    /// <summary>Slot of each written point, in the order of <see cref="LinkTable.Writes"/>.</summary>
    public CommandSlot[] Commands { get; }

    /// <summary>What the link has been through.</summary>
    public LinkFigures Counters { get; } = new();

    /// <summary>What the link itself has seen on the wire; all zero where a stack does not count.</summary>
    public LinkCounters WireCounters => _diagnostics?.Counters ?? default;

    /// <summary>Outcome that ended the latest connection; None before the first loss.</summary>
    public ModbusOutcome LastFailure { get; private set; }

    /// <summary>True while a connection is up that has answered.</summary>
    public bool IsOnline => Volatile.Read(ref _online) != 0;

    /// <summary>
    /// Connects and proves the connection: de-energising writes that waited, then one poll. Throws when refused, not
    /// reached or not proved, so that a device which only accepts and drops is backed off from like a dead one.
    /// </summary>
    /// <exception cref="LinkFailedException">Connected, but a write or the poll failed.</exception>
    public void ConnectAndProve()
    {
        try
        {
            _link.Connect(_table.ConnectTimeoutMs);
            DropEnergising();
            Volatile.Write(ref _online, 1);
            ServeDeEnergising();
            if (IsOnline && Blocks.Length > 0)
            {
                PollOne(_firstPoll);
            }
        }
        catch
        {
            Fail(failedBlock: -1, ReadResult.NotConnected);
            throw;
        }

        if (!IsOnline)
        {
            throw new LinkFailedException("connected, but the device did not answer");
        }

        Counters.CountConnect();
    }

    /// <summary>Reads every block that is due in this round, de-energising writes in between; stops at the first lost connection.</summary>
    public void PollAll()
    {
        _schedule.BeginRound();
        int start = _firstPoll;
        for (int i = 0; i < Blocks.Length; i++)
        {
            ServeDeEnergising();
            if (!IsOnline)
            {
                return;
            }

            int index = (start + i) % Blocks.Length;
            if (_schedule.IsDue(index))
            {
                PollOne(index);
            }
        }
    }

    /// <summary>Sends every waiting de-energising write.</summary>
    public void ServeDeEnergising()
    {
        for (int i = 0; i < Commands.Length && IsOnline; i++)
        {
            long taken = Commands[i].Take(deEnergising: true);
            if (taken != 0)
            {
                Write(i, taken);
            }
        }
    }

    /// <summary>Sends one waiting energising write. False when there was none.</summary>
    public bool ServeOneEnergising()
    {
        for (int i = 0; i < Commands.Length && IsOnline; i++)
        {
            long taken = Commands[i].Take(deEnergising: false);
            if (taken != 0)
            {
                Write(i, taken);
                return true;
            }
        }

        return false;
    }

    /// <summary>True while any write waits to be sent.</summary>
    public bool HasWaiting()
    {
        foreach (CommandSlot slot in Commands)
        {
            if (slot.IsWaiting)
            {
                return true;
            }
        }

        return false;
    }

    /// <summary>Closes the connection after a failure of block <paramref name="failedBlock"/> (−1: not a poll).</summary>
    public void Fail(int failedBlock, ReadResult result)
    {
        bool wasOnline = Interlocked.Exchange(ref _online, 0) != 0;
        _link.Close();
        _schedule.AllDue();
        for (int i = 0; i < Blocks.Length; i++)
        {
            Blocks[i].PublishFailure(i == failedBlock ? result : ReadResult.NotConnected, exceptionCode: 0);
        }

        DropEnergising();
        if (wasOnline)
        {
            Counters.CountLoss();
        }
    }

    /// <summary>Closes the connection at the end of the run.</summary>
    public void Close()
    {
        Volatile.Write(ref _online, 0);
        _link.Close();
    }

    private void PollOne(int index)
    {
        PollRequestTable poll = _table.Polls[index];
        long sentUs = _clock.NowUs;
        ModbusResult result = _split[index] ? ReadParts(poll) : Read(poll, 0, poll.Count);
        if (result.Exception == ModbusExceptionCode.IllegalDataAddress && poll.Spans.Count > 1 && !_split[index])
        {
            // The device refuses a gap: for the rest of the run only the used parts are read, each on its own.
            _split[index] = true;
            Counters.CountSplit();
            result = ReadParts(poll);
        }

        Publish(index, result, sentUs);
    }

    private ModbusResult ReadParts(PollRequestTable poll)
    {
        ModbusResult result = default;
        _scratch.AsSpan(0, poll.Count).Clear();
        for (int i = 0; i < poll.Spans.Count; i++)
        {
            ServeDeEnergising();
            result = Read(poll, poll.Spans[i].Offset, poll.Spans[i].Count);
            if (!result.IsGood)
            {
                break;
            }
        }

        return result;
    }

    private ModbusResult Read(PollRequestTable poll, int offset, int count)
    {
        Span<ushort> words = _scratch.AsSpan(offset, count);
        var address = (ushort)(poll.Address + offset);
        long sentUs = _clock.NowUs;
        ModbusResult result = poll.Table is ModbusTable.Coils or ModbusTable.DiscreteInputs
            ? _link.ReadBits(poll.UnitId, poll.Table, address, words, _table.TimeoutMs)
            : _link.ReadRegisters(poll.UnitId, poll.Table, address, words, _table.TimeoutMs);
        Counters.CountRead(result.IsGood);
        Counters.NoteRoundTrip(result.Outcome, _clock.NowUs - sentUs);
        return result;
    }

    private void Publish(int index, ModbusResult result, long sentUs)
    {
        switch (result.Outcome)
        {
            case ModbusOutcome.Good:
                _schedule.Done(index);
                Blocks[index].PublishGood(_scratch.AsSpan(0, _table.Polls[index].Count), sentUs);
                break;
            case ModbusOutcome.DeviceException:
                _schedule.Done(index);
                Counters.CountException();
                Blocks[index].PublishFailure(ReadResult.DeviceException, (byte)result.Exception);
                break;
            default:
                // Begin with another block next time, so that one dead device behind a gateway does not starve the rest.
                _firstPoll = (index + 1) % Blocks.Length;
                NoteFailure(result.Outcome);
                Fail(index, Translate(result.Outcome));
                break;
        }
    }

    private void Write(int index, long taken)
    {
        WritePointTable point = _table.Writes[index];
        ModbusResult result;
        long sentUs = _clock.NowUs;
        try
        {
            result = Send(point, taken);
        }
        catch
        {
            // Whatever broke, a de-energising write must not be lost with it.
            Commands[index].LinkLost(taken);
            throw;
        }

        Counters.CountWrite(result.IsGood);
        Counters.NoteRoundTrip(result.Outcome, _clock.NowUs - sentUs);
        if (result.Outcome is ModbusOutcome.Good or ModbusOutcome.DeviceException)
        {
            Commands[index].Complete(taken, result.IsGood);
            if (!result.IsGood)
            {
                Counters.CountException();
            }

            return;
        }

        NoteFailure(result.Outcome);
        Commands[index].LinkLost(taken);
        Fail(failedBlock: -1, ReadResult.NotConnected);
    }

    private ModbusResult Send(WritePointTable point, long taken)
    {
        uint words = CommandSlot.WordsOf(taken);
        if (point.Table == ModbusTable.Coils)
        {
            return _link.WriteCoil(point.UnitId, point.Address, words != 0, _table.TimeoutMs);
        }

        if (!CommandSlot.IsTwoWords(taken))
        {
            return _link.WriteRegister(point.UnitId, point.Address, (ushort)(words & ushort.MaxValue), _table.TimeoutMs);
        }

        _writeWords[0] = (ushort)(words >> 16);
        _writeWords[1] = (ushort)(words & ushort.MaxValue);
        return _link.WriteRegisters(point.UnitId, point.Address, _writeWords, _table.TimeoutMs);
    }

    private void DropEnergising()
    {
        foreach (CommandSlot slot in Commands)
        {
            if (slot.DropEnergising())
            {
                Counters.CountDropped();
            }
        }
    }

    private void NoteFailure(ModbusOutcome outcome)
    {
        LastFailure = outcome;
        if (outcome == ModbusOutcome.Timeout)
        {
            Counters.CountTimeout();
        }
        else if (outcome == ModbusOutcome.BadAnswer)
        {
            Counters.CountBadAnswer();
        }
    }

    private static ReadResult Translate(ModbusOutcome outcome) => outcome switch
    {
        ModbusOutcome.Timeout => ReadResult.Timeout,
        ModbusOutcome.BadAnswer => ReadResult.BadAnswer,
        _ => ReadResult.NotConnected,
    };
}
