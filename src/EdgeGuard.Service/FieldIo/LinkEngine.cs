using EdgeGuard.Core.Signals;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Records.Ring;

namespace EdgeGuard.Service.FieldIo;

/// <summary>
/// Everything one link does, step by step, without a thread or a timer of its own; the worker decides when. The rules:
/// de-energising writes go first and between any two requests; a failure that closes the connection marks every block
/// of the link and fails the waiting energising writes; what remains waiting (only de-energising) is sent before the
/// first poll of the next connection. A late answer dies with the closed connection. A line that stays open when one of
/// its devices is silent (a serial bus) goes on with the others; it is given up after a round without an answer when all
/// of them are silent.
/// </summary>
public sealed class LinkEngine
{
    private readonly LinkTable _table;
    private readonly IModbusLink _link;
    private readonly FieldClock _clock;
    private readonly LinkCommands _commands;
    private readonly PollSchedule _schedule;
    private readonly PollReader _reader;
    private readonly PollNews _pollNews;
    private readonly SilentUnits _silent;
    private int _firstPoll;
    private int _answeredInRound;
    private bool _isOpen;
    private int _online;

    /// <summary>Allocates slots for every poll and every written point of the link.</summary>
    public LinkEngine(LinkTable table, IModbusLink link, FieldClock clock)
    {
        ArgumentNullException.ThrowIfNull(table);
        _table = table;
        _link = link;
        Counters = new LinkFigures((link as IModbusDiagnosticLink)?.Counters);
        _clock = clock;
        _pollNews = new PollNews(table, News);
        _reader = new PollReader(table, link, Counters, clock, ServeDeEnergising, _pollNews);
        Settings = new SettingsWatch(table.Settings, News);
        _schedule = new PollSchedule(table.Polls);
        _silent = new SilentUnits(table);
        _commands = new LinkCommands(table, link, Counters, clock, _silent, News);
        Blocks = [.. table.Polls.Select(static p => new BlockSlot(p.Count))];
    }

    /// <summary>Configuration of the link.</summary>
    public LinkTable Table => _table;

    /// <summary>Slot of each poll request, in the order of <see cref="LinkTable.Polls"/>.</summary>
    public BlockSlot[] Blocks { get; }

    /// <summary>Slot of each written point, in the order of <see cref="LinkTable.Writes"/>.</summary>
    public CommandSlot[] Commands => _commands.Slots;

    /// <summary>Settings of the devices of the link, compared with what was commissioned.</summary>
    internal SettingsWatch Settings { get; }

    /// <summary>What people are to be told of its devices.</summary>
    internal DeviceNews News { get; } = new();

    /// <summary>What the link has been through.</summary>
    public LinkFigures Counters { get; }

    /// <summary>End of the certificate the peer showed at the latest connect; null without one.</summary>
    public DateTime? PeerCertificateEndUtc => (_link as IModbusDiagnosticLink)?.PeerCertificateEndUtc;

    /// <summary>True while a connection is up that has answered; before, only what removes power is sent.</summary>
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
            if (!_link.IsConnected)
            {
                _link.Connect(_table.ConnectTimeoutMs);
            }

            _isOpen = true;
            _commands.BeginAttempt();
            ServeDeEnergising();
            Prove();
            CompareAllSettings();
        }
        catch (Exception cause)
        {
            Counters.Add(OpenFailures.FigureOf(cause));
            Fail(failedBlock: -1, ReadResult.NotConnected);
            throw;
        }

        if (!IsOnline)
        {
            Counters.Add(LinkFigure.UnprovedConnects);
            throw new LinkFailedException("connected, but the device did not answer");
        }

        Counters.Add(LinkFigure.Connects);
    }

    /// <summary>All figures of the link, in the order of <see cref="LinkFigure"/>; allocates nothing.</summary>
    public void CopyFigures(Span<long> figures) => Counters.CopyTo(figures, IsOnline);

    /// <summary>Reads every block that is due in this round, de-energising writes in between; stops at the first lost connection.</summary>
    public void PollAll()
    {
        _schedule.BeginRound();
        _silent.BeginRound();
        _commands.BeginRound();
        _answeredInRound = 0;
        int start = _firstPoll;
        for (int i = 0; i < Blocks.Length; i++)
        {
            ServeDeEnergising();
            if (!IsOnline)
            {
                return;
            }

            int index = (start + i) % Blocks.Length;
            if (_schedule.IsDue(index) && !_silent.Rests(index))
            {
                PollOne(index);
            }
        }

        if (IsOnline && _answeredInRound == 0 && _silent.IsEverybody())
        {
            GoOffline(failedBlock: -1, ReadResult.NotConnected);
        }

        ServeDeEnergising();
        if (IsOnline && Settings.Due(_clock.NowUs) is var due and >= 0)
        {
            CompareSetting(due);
        }

        Settings.Publish();
    }

    /// <summary>Sends every waiting de-energising write, those for a device that was silent before in its turn.</summary>
    public void ServeDeEnergising()
    {
        if (_isOpen && !_commands.ServeDeEnergising())
        {
            Fail(failedBlock: -1, ReadResult.NotConnected);
        }
    }

    /// <summary>Sends one waiting energising write, each point in its turn; those for a device at rest fail unsent. False when there was none.</summary>
    public bool ServeOneEnergising()
    {
        bool sent = IsOnline && _commands.ServeOneEnergising();
        if (sent && !_link.IsConnected)
        {
            Fail(failedBlock: -1, ReadResult.NotConnected);
        }

        return sent;
    }

    /// <summary>Closes the connection after a failure of block <paramref name="failedBlock"/> (−1: not a poll).</summary>
    public void Fail(int failedBlock, ReadResult result)
    {
        GoOffline(failedBlock, result);
        _link.Close(); // last: should it throw, the blocks are marked all the same
    }

    /// <summary>Nobody is known to be there. An open line stays open: closing it would forget the answers it is still owed.</summary>
    private void GoOffline(int failedBlock, ReadResult result)
    {
        _isOpen = false;
        bool wasOnline = Interlocked.Exchange(ref _online, 0) != 0;
        _schedule.AllDue();
        _silent.Clear();
        for (int i = 0; i < Blocks.Length; i++)
        {
            Blocks[i].PublishFailure(i == failedBlock ? result : ReadResult.NotConnected, exceptionCode: 0);
        }

        Settings.LinkLost();
        _commands.DropEnergising();
        if (wasOnline)
        {
            Counters.Add(LinkFigure.Losses);
        }
    }

    /// <summary>Closes the connection at the end of the run.</summary>
    public void Close()
    {
        _isOpen = false;
        Volatile.Write(ref _online, 0);
        _link.Close();
    }

    /// <summary>One answer of any block proves the connection; on a line that stays open silent devices are passed over.</summary>
    private void Prove()
    {
        _answeredInRound = 0;
        int start = _firstPoll;
        for (int i = 0; i < Blocks.Length && _isOpen && _answeredInRound == 0; i++)
        {
            PollOne((start + i) % Blocks.Length);
            ServeDeEnergising();
        }

        if (_isOpen && Blocks.Length > 0 && _answeredInRound == 0)
        {
            GoOffline(failedBlock: -1, ReadResult.NotConnected);
        }

        if (_isOpen)
        {
            _commands.DropEnergising(); // offered to the connection before, or to none
            Volatile.Write(ref _online, 1);
        }
    }

    private void PollOne(int index)
    {
        long sentUs = _clock.NowUs;
        Publish(index, _reader.Read(index), sentUs);
    }

    private void Publish(int index, ModbusResult result, long sentUs)
    {
        switch (result.Outcome)
        {
            case ModbusOutcome.Good:
                Answered(index, result);
                Blocks[index].PublishGood(_reader.Words(index), sentUs);
                Settings.Answered(_table.Polls[index].UnitId, sentUs);
                break;
            case ModbusOutcome.DeviceException:
                Answered(index, result);
                Blocks[index].PublishFailure(ReadResult.DeviceException, (byte)result.Exception);
                break;
            default:
                // Begin with another block next time, so that one dead device behind a gateway does not starve the rest.
                _firstPoll = (index + 1) % Blocks.Length;
                FailOne(index, result.Outcome);
                break;
        }
    }

    /// <summary>At each connect settings are read, removals in between, for one scan: polls and tokens must not wait for more. A silent device is not asked again here.</summary>
    private void CompareAllSettings()
    {
        int silent = -1;
        long endUs = _clock.NowUs + (_table.ScanMs * 1000L);
        for (int i = 0; i < Settings.Count && IsOnline && (i == 0 || _clock.NowUs < endUs); i++)
        {
            ServeDeEnergising();
            if (IsOnline && Settings.DeviceOf(i) != silent && !CompareSetting(i))
            {
                silent = Settings.DeviceOf(i);
            }
        }

        Settings.Publish();
    }

    private bool CompareSetting(int index)
    {
        ModbusResult result = Settings.Read(index, _link, _table.TimeoutMs, _clock.NowUs);
        Counters.AddRead(result);
        if (result.Outcome is ModbusOutcome.Good or ModbusOutcome.DeviceException)
        {
            return true;
        }

        if (!_link.IsConnected)
        {
            Fail(failedBlock: -1, ReadResult.NotConnected);
        }

        return false;
    }

    /// <summary>The answer of a gateway for a device that it does not reach says that the gateway is there, and that the device is silent.</summary>
    private void Answered(int index, ModbusResult result)
    {
        byte unitId = _table.Polls[index].UnitId;
        _answeredInRound++;
        if (_commands.NoteAnswer(unitId, result))
        {
            _schedule.Done(index);
        }
        else if (_silent.Missed(index, isHeldBack: false))
        {
            Settings.Forget(unitId);
        }
    }

    private void FailOne(int index, ModbusOutcome outcome)
    {
        if (!_link.IsConnected)
        {
            Fail(index, PollReader.Translate(outcome));
            return;
        }

        if (_silent.Missed(index, _reader.WasHeldBack))
        {
            Settings.Forget(_table.Polls[index].UnitId);
            _pollNews.Silent(index);
        }

        Blocks[index].PublishFailure(PollReader.Translate(outcome), exceptionCode: 0);
    }
}
