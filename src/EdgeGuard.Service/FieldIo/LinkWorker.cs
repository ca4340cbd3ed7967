using EdgeGuard.Modbus.Client;
using EdgeGuard.Records.Ring;

namespace EdgeGuard.Service.FieldIo;

/// <summary>
/// One thread per link that drives its <see cref="LinkEngine"/> with blocking calls. In real time it polls on an
/// absolute schedule, a lead before each scan, and serves writes in between as soon as they are offered. Conducted,
/// it polls only when told and reports when everything asked for is done. A dead device therefore stalls its own
/// thread and nothing else.
/// </summary>
public sealed class LinkWorker : IDisposable
{
    private const long Never = long.MaxValue;
    private const int DisposeLimitMs = 1_000;

    private readonly LinkEngine _engine;
    private readonly FieldClock _clock;
    private readonly LinkReporter _reporter;
    private readonly bool _conducted;
    private readonly ReconnectPolicy _reconnect;
    private readonly CancellationTokenSource _stop = new();
    private readonly AutoResetEvent _wake = new(initialState: false);
    private readonly AutoResetEvent _served = new(initialState: false);
    private readonly Thread _thread;
    private readonly long _periodUs;
    private long _nextPollUs;
    private long _asked;
    private long _done;
    private int _pollAsked;

    /// <summary>Prepares the worker; nothing runs before <see cref="Start"/>.</summary>
    public LinkWorker(LinkEngine engine, FieldClock clock, ILinkObserver observer, bool conducted)
    {
        ArgumentNullException.ThrowIfNull(engine);
        _engine = engine;
        _clock = clock;
        _reporter = new LinkReporter(observer, clock, engine.Table.Name);
        _conducted = conducted;
        _periodUs = engine.Table.ScanMs * 1000L;
        _nextPollUs = Never;
        _reconnect = new ReconnectPolicy(engine.Table, new WaitingTime(_stop.Token.WaitHandle), cause =>
        {
            engine.Counters.Add(LinkFigure.BackOffs);
            _reporter.Lost(cause.Message);
        });
        _thread = new Thread(Run) { IsBackground = true, Name = "link " + engine.Table.Name };
    }

    /// <summary>The engine with its slots and counters.</summary>
    public LinkEngine Engine => _engine;

    /// <summary>Starts the thread.</summary>
    /// <param name="firstScanUs">Nominal time of the first scan, µs; polls keep their lead before it and its successors.</param>
    public void Start(long firstScanUs)
    {
        if (!_conducted)
        {
            _nextPollUs = firstScanUs - (_engine.Table.PollLeadMs * 1000L);
        }

        _thread.Start();
    }

    /// <summary>Interrupts the wait between polls, because a write was offered.</summary>
    public void Wake() => _wake.Set();

    /// <summary>Conducted: polls once and serves all writes; <see cref="WaitDone"/> tells when.</summary>
    public void AskPoll()
    {
        Volatile.Write(ref _pollAsked, 1);
        AskServe();
    }

    /// <summary>Conducted: serves all writes offered so far; <see cref="WaitDone"/> tells when.</summary>
    public void AskServe()
    {
        Interlocked.Increment(ref _asked);
        _wake.Set();
    }

    /// <summary>Conducted: waits until everything asked for is done.</summary>
    public void WaitDone()
    {
        while (Volatile.Read(ref _done) < Volatile.Read(ref _asked) && _thread.IsAlive)
        {
            _served.WaitOne(1000);
        }
    }

    /// <summary>Tells the thread to stop; returns at once.</summary>
    public void BeginStop()
    {
        _stop.Cancel();
        _wake.Set();
    }

    /// <summary>Stops the thread and closes the connection; writes still waiting are not sent any more.</summary>
    /// <returns>False when the thread did not end within the limit (it is a background thread and dies with the process).</returns>
    public bool Stop(int limitMs)
    {
        BeginStop();
        return !_thread.IsAlive || _thread.Join(limitMs);
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        // Who was told before has had its time. A thread that hangs in a call still needs them when it comes back.
        if (Stop(_stop.IsCancellationRequested ? 0 : DisposeLimitMs))
        {
            _wake.Dispose();
            _served.Dispose();
            _stop.Dispose();
        }
    }

    private void Run()
    {
        while (!_stop.IsCancellationRequested)
        {
            try
            {
                Turn();
            }
            catch (OperationCanceledException)
            {
                break;
            }
            catch (Exception fault)
            {
                // No answer of a device may end the thread that must carry the next de-energising write.
                Survive(fault);
            }
        }

        Try(_engine.Close);
    }

    private void Turn()
    {
        if (_conducted)
        {
            ConductedTurn();
        }
        else
        {
            TimedTurn();
        }

        ReportState();
    }

    private void ReportState()
    {
        _reporter.Devices(_engine.News);
        if (_engine.IsOnline)
        {
            _reporter.StillUp();
        }
        else if (_engine.Counters.LastFailure != ModbusOutcome.None)
        {
            _reporter.Lost(Describe(_engine.Counters.LastFailure));
        }
    }

    private static string Describe(ModbusOutcome failure) => failure switch
    {
        ModbusOutcome.Timeout => "no answer in time",
        ModbusOutcome.BadAnswer => "an answer that does not fit the request",
        _ => "the connection broke",
    };

    private void TimedTurn()
    {
        if (!_engine.IsOnline)
        {
            _reconnect.UntilConnected(_engine, _stop.Token);
            _reporter.Connected();
            SkipMissedPolls();
        }

        _engine.ServeDeEnergising();
        if (_clock.NowUs >= _nextPollUs)
        {
            _engine.PollAll();
            SkipMissedPolls();
            ServeEnergisingOnce();
        }
        else if (!_engine.ServeOneEnergising())
        {
            WaitUntilPollOrWake();
        }
    }

    // Where a round takes about a whole number of scans no time is left between two rounds. One write a round would then
    // be too few for the permit tokens of several units; more than a scan of writes would make the blocks old.
    private void ServeEnergisingOnce()
    {
        long endUs = _clock.NowUs + _periodUs;
        for (int i = 0; i < _engine.Commands.Length && (i == 0 || _clock.NowUs < endUs); i++)
        {
            _engine.ServeDeEnergising();
            if (!_engine.ServeOneEnergising())
            {
                break;
            }
        }
    }

    private void ConductedTurn()
    {
        long asked = Volatile.Read(ref _asked);
        if (asked == _done)
        {
            _wake.WaitOne(1000);
            return;
        }

        try
        {
            ConductedWork();
        }
        finally
        {
            Volatile.Write(ref _done, asked);
            _served.Set();
        }
    }

    private void ConductedWork()
    {
        if (Interlocked.Exchange(ref _pollAsked, 0) != 0)
        {
            if (!_engine.IsOnline && !TryConnectOnce())
            {
                return;
            }

            _engine.PollAll();
        }

        do
        {
            _engine.ServeDeEnergising();
        }
        while (_engine.ServeOneEnergising());
    }

    // Conducted, the conductor sets the pace: one attempt a poll, no waiting, so that runs repeat exactly.
    private bool TryConnectOnce()
    {
        try
        {
            _engine.ConnectAndProve();
            _reporter.Connected();
            return true;
        }
        catch (Exception cause) when (cause is not OperationCanceledException)
        {
            _reporter.Lost(cause.Message);
            _engine.Fail(failedBlock: -1, Core.Signals.ReadResult.NotConnected);
            return false;
        }
    }

    private void SkipMissedPolls()
    {
        long lateUs = _clock.NowUs - _nextPollUs;
        if (lateUs < 0)
        {
            return;
        }

        long periods = (lateUs / _periodUs) + 1;
        _nextPollUs += periods * _periodUs;
        if (periods > 1)
        {
            _engine.Counters.Add(LinkFigure.PollOverruns, periods - 1);
        }
    }

    private void WaitUntilPollOrWake()
    {
        // Rounded up to a whole millisecond: the lead before the scan has room for it, a busy loop has not.
        long waitUs = _nextPollUs - _clock.NowUs;
        if (waitUs > 0)
        {
            _wake.WaitOne((int)Math.Min(1000, (waitUs + 999) / 1000));
        }
    }

    private void Survive(Exception fault)
    {
        _engine.Counters.Add(LinkFigure.Faults);
        Try(() => _reporter.Fault(fault));
        Try(() => _engine.Fail(failedBlock: -1, Core.Signals.ReadResult.NotConnected));
        if (!_conducted)
        {
            _stop.Token.WaitHandle.WaitOne(_engine.Table.ReconnectMinMs);
        }
    }

    // A fault while a fault is dealt with would end the process, and with it the guard of every other link.
    private void Try(Action step)
    {
        try
        {
            step();
        }
        catch (Exception)
        {
            _engine.Counters.Add(LinkFigure.Faults);
        }
    }
}
