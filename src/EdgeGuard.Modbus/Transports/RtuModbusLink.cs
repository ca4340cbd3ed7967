using System.Diagnostics;
using EdgeGuard.Modbus.Client;

namespace EdgeGuard.Modbus.Transports;

/// <summary>
/// A client on a line of RTU frames, whatever carries it. Several devices share the line, so a device that is silent
/// must not cost the others theirs: unlike over Modbus TCP, the line stays open after a time-out or a bad answer. What
/// closing does there is done here by keeping distance: no request before the line was silent, and no read that an
/// answer still owed could be taken for before <see cref="RtuLinkOptions.LateAnswerGuardMs"/> has passed; when that
/// leaves less than half of the time-out, the request is not sent and ends as a time-out at once.
/// </summary>
public abstract class RtuModbusLink : ModbusLink
{
    private readonly ISerialLine _line;
    private readonly RtuClientEngine _engine;
    private readonly RtuLinkOptions _options;
    private readonly long[] _guardEnd = new long[256];
    private readonly int _gapUs;
    private long _lastByte;
    private long _notBefore;
    private int _echoLeft;
    private int _silentCount;
    private bool _needsResync;
    private volatile bool _isOpen;

    private protected RtuModbusLink(ISerialLine line, RtuLinkOptions? options, int gapUs)
        : this(line, options ?? new RtuLinkOptions(), gapUs, new RtuClientEngine())
    {
    }

    private RtuModbusLink(ISerialLine line, RtuLinkOptions options, int gapUs, RtuClientEngine engine)
        : base(engine)
    {
        options.Validate();
        _line = line;
        _engine = engine;
        _options = options;
        _gapUs = Math.Max(gapUs, options.InterFrameGapMs * 1000);
    }

    /// <inheritdoc/>
    public override bool IsConnected => _isOpen;

    /// <summary>True when the link closes a line on which nobody says anything any more.</summary>
    private protected abstract bool ClosesWhenSilent { get; }

    /// <inheritdoc/>
    public override void Connect(int timeoutMs)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(timeoutMs, 1);
        Close();
        _line.Open(timeoutMs);
        _engine.Reset();
        Window.Clear();
        _needsResync = true; // whatever was under way on the line when it was opened
        _lastByte = Stopwatch.GetTimestamp();
        _notBefore = 0;
        _silentCount = 0;
        Counters.Add(LinkCounter.Openings);
        _isOpen = true;
    }

    /// <inheritdoc/>
    public override void Close()
    {
        _isOpen = false;
        _line.Close();
    }

    /// <inheritdoc/>
    protected override void Dispose(bool disposing)
    {
        base.Dispose(disposing);
        if (disposing)
        {
            _line.Dispose();
        }
    }

    /// <summary>Time a frame of that many bytes takes on the line, µs; 0 where nobody knows.</summary>
    private protected abstract int FrameUs(int byteCount);

    private protected override ModbusOutcome Ready(Deadline deadline)
    {
        if (!_isOpen)
        {
            return ModbusOutcome.NotConnected;
        }

        Counters.Add(LinkCounter.Requests);
        return ModbusOutcome.None;
    }

    private protected override ModbusResult Transact(Span<ushort> words, Deadline deadline)
    {
        long begun = Stopwatch.GetTimestamp();
        ModbusOutcome obstacle = AwaitClearLine(deadline);
        if (obstacle != ModbusOutcome.None)
        {
            _engine.Withdraw(obstacle);
            return End(obstacle);
        }

        if (!_line.Write(_engine.Request, Math.Max(1, deadline.RemainingMs())))
        {
            return End(Lose());
        }

        _lastByte = Stopwatch.GetTimestamp();
        if (_engine.IsBroadcast)
        {
            long pauseUs = FrameUs(_engine.Request.Length) + (_options.TurnaroundMs * 1000L);
            _notBefore = _lastByte + TicksOf(pauseUs);
            _engine.EndBroadcast();
            return End(ModbusOutcome.BroadcastSent);
        }

        PieceCount = 0;
        _echoLeft = _options.HasLocalEcho ? _engine.Request.Length : 0;
        return AwaitAnswer(words, deadline, begun);
    }

    /// <summary>Waits until a request may be sent: guard, turnaround, silence. None, or why it may not.</summary>
    private ModbusOutcome AwaitClearLine(Deadline deadline)
    {
        long guardEnd = _engine.MustKeepDistance ? _guardEnd[_engine.UnitId] : 0;
        long left = deadline.Ticks - Stopwatch.GetTimestamp();
        if (guardEnd > deadline.Ticks - (left / 2))
        {
            Counters.Add(LinkCounter.DeferredRequests);
            return ModbusOutcome.Timeout;
        }

        JudgeStray(); // what came behind the last answer
        while (true)
        {
            bool isGuarded = guardEnd != 0 && _engine.MustKeepDistance;
            long gap = _needsResync || !Window.Unread.IsEmpty ? TicksOf(_options.ResyncSilenceMs * 1000L) : TicksOf(_gapUs);
            long clearAt = Math.Max(Math.Max(_lastByte + gap, _notBefore), isGuarded ? guardEnd : 0);
            int count = _line.Read(Window.MakeRoom(), Deadline.Earlier(Deadline.At(clearAt), deadline).RemainingMs());
            if (count < 0)
            {
                return Lose();
            }

            if (count > 0)
            {
                TakeStray(count);
            }
            else if (Stopwatch.GetTimestamp() >= clearAt)
            {
                DropNoise();
                _needsResync = false;
                return ModbusOutcome.None;
            }

            if (deadline.RemainingMs() == 0)
            {
                Counters.Add(LinkCounter.DeferredRequests);
                return ModbusOutcome.Timeout;
            }
        }
    }

    /// <summary>Bytes nobody has asked for, or that were asked for too long ago.</summary>
    private void TakeStray(int count)
    {
        Window.Commit(count);
        _lastByte = Stopwatch.GetTimestamp();
        JudgeStray();
    }

    private void JudgeStray()
    {
        while (!Window.Unread.IsEmpty)
        {
            switch (_engine.TakeBefore(Window.Unread, out int consumed))
            {
                case ClientStatus.LateDropped:
                    Window.Consume(consumed);
                    Counters.Late(_engine.WasDuplicate);
                    break;
                case ClientStatus.NeedMore:
                    return;
                default:
                    DropNoise();
                    _needsResync = true;
                    return;
            }
        }
    }

    private void DropNoise()
    {
        if (!Window.Unread.IsEmpty)
        {
            Counters.Add(LinkCounter.NoiseBytes, Window.Unread.Length);
            Window.Clear();
        }
    }

    private ModbusResult AwaitAnswer(Span<ushort> words, Deadline deadline, long begun)
    {
        bool isSilent = true;
        for (int remainingMs = deadline.RemainingMs(); remainingMs > 0; remainingMs = deadline.RemainingMs())
        {
            int count = _line.Read(Window.MakeRoom(), remainingMs);
            if (count < 0)
            {
                _engine.Abandon(ModbusOutcome.ConnectionLost); // what was sent may be answered when the line is back
                Guard(deadline, begun);
                return End(Lose());
            }

            if (count == 0)
            {
                continue;
            }

            isSilent = false;
            Window.Commit(count);
            _lastByte = Stopwatch.GetTimestamp();
            PieceCount++;
            ClientStatus echo = _echoLeft > 0 ? TakeEcho() : ClientStatus.Completed;
            switch (echo == ClientStatus.Completed ? TakeAll(words) : echo)
            {
                case ClientStatus.Completed:
                    _silentCount = 0;
                    if (_engine.IsStillOwed)
                    {
                        Guard(deadline, begun);
                    }

                    return Complete();
                case ClientStatus.Broken:
                    return FailBad(deadline, begun);
                default:
                    break;
            }
        }

        return FailTimeout(isSilent, deadline, begun);
    }

    /// <summary>Takes off what the adapter heard of itself; Completed when nothing of it is left to come.</summary>
    private ClientStatus TakeEcho()
    {
        if (Window.Unread.Length < _echoLeft)
        {
            return ClientStatus.NeedMore;
        }

        if (!Window.Unread[.._echoLeft].SequenceEqual(_engine.Request))
        {
            return _engine.RefuseEcho();
        }

        Window.Consume(_echoLeft);
        _echoLeft = 0;
        PieceCount = Window.Unread.IsEmpty ? 0 : 1;
        return ClientStatus.Completed;
    }

    private ModbusResult FailBad(Deadline deadline, long begun)
    {
        _silentCount = 0;
        Counters.Bad(_engine.Fault);
        DropRest();
        Guard(deadline, begun);
        return End(ModbusOutcome.BadAnswer);
    }

    private ModbusResult FailTimeout(bool isSilent, Deadline deadline, long begun)
    {
        if (!Window.Unread.IsEmpty)
        {
            Counters.Add(LinkCounter.TruncatedAnswers);
            DropRest();
        }

        _engine.Abandon(ModbusOutcome.Timeout);
        Guard(deadline, begun);
        _silentCount = isSilent ? _silentCount + 1 : 0;
        if (ClosesWhenSilent && _silentCount >= _options.SilentRequestsMax)
        {
            Counters.Add(LinkCounter.SilentClosings);
            Close();
        }

        return End(ModbusOutcome.Timeout);
    }

    private void DropRest()
    {
        Window.Clear();
        _needsResync = true;
    }

    private void Guard(Deadline deadline, long begun)
    {
        long guard = _options.LateAnswerGuardMs > 0 ? TicksOf(_options.LateAnswerGuardMs * 1000L) : deadline.Ticks - begun;
        _guardEnd[_engine.UnitId] = Stopwatch.GetTimestamp() + guard;
    }

    private ModbusOutcome Lose()
    {
        _engine.Withdraw(ModbusOutcome.ConnectionLost);
        Close();
        return ModbusOutcome.ConnectionLost;
    }

    private ModbusResult End(ModbusOutcome outcome)
    {
        ModbusResult result = new(outcome);
        Counters.Ended(result);
        return result;
    }

    private static long TicksOf(long microseconds) => microseconds * Stopwatch.Frequency / 1_000_000;
}
