using System.Globalization;
using EdgeGuard.Records.Journal;
using Serilog;

namespace EdgeGuard.Service.Guarding;

/// <summary>
/// Starts the publisher once scans run, watches it and starts it again: after its death, when it is silent, when a signal
/// has stopped it (that, where the system tells it, need not wait for the silence), and when it holds more memory than it
/// may. One that ran for a while is back after the shortest wait; one that dies early again and
/// again is waited for longer each time, so that neither journal nor machine is filled with its starts. A thread of its
/// own; nothing that befalls the publisher, or this thread, reaches the scan.
/// </summary>
internal sealed class PublisherKeeper : IDisposable
{
    private const int FirstScanMs = 20;
    private const long BytesPerMb = 1 << 20;

    private readonly PublisherLaunch _launch;
    private readonly ScanStatistics _statistics;
    private readonly Action<ShellEventId, string, long?> _journal;
    private readonly ILogger _log;
    private readonly AutoResetEvent _wake = new(initialState: false);
    private readonly Thread _thread;
    private int _stopping;
    private int _early;

    /// <summary>Prepares; nothing is started before <see cref="Start"/>.</summary>
    /// <param name="launch">What to start.</param>
    /// <param name="statistics">Tells when scans run.</param>
    /// <param name="journal">Takes entries: event, text, detail. Must not wait.</param>
    /// <param name="log">Takes lines of the publisher.</param>
    public PublisherKeeper(PublisherLaunch launch, ScanStatistics statistics, Action<ShellEventId, string, long?> journal, ILogger log)
    {
        (_launch, _statistics, _journal, _log) = (launch, statistics, journal, log);
        _thread = new Thread(Run) { IsBackground = true, Name = "publisher keeper" };
    }

    private bool Stopping => Volatile.Read(ref _stopping) != 0;

    public void Start() => _thread.Start();

    /// <summary>Asks the publisher to end and starts none again. Returns at once; any thread.</summary>
    public void BeginStop()
    {
        Volatile.Write(ref _stopping, 1);
        Wake();
    }

    /// <summary>Ends the publisher, by force if it takes too long. May be called again.</summary>
    public void Dispose()
    {
        BeginStop();
        if (_thread.ThreadState.HasFlag(ThreadState.Unstarted) || _thread.Join(2 * _launch.StopMs))
        {
            _wake.Dispose();
        }
    }

    private void Run()
    {
        while (!Stopping && _statistics.Scans == 0)
        {
            _wake.WaitOne(FirstScanMs);
        }

        ShellEventId start = ShellEventId.PublisherStarted;
        while (!Stopping)
        {
            long startedMs = Environment.TickCount64;
            try
            {
                KeepOne(start);
            }
            catch (Exception e)
            {
                // Whatever it is, it must not end the guard: told, and tried again later.
                _log.Error("the publisher cannot be started: {Cause}", e.Message);
                _journal(ShellEventId.PublisherStartFailed, e.Message, null);
            }

            start = ShellEventId.PublisherRestarted;
            WaitBeforeStart(Environment.TickCount64 - startedMs);
        }
    }

    private void KeepOne(ShellEventId start)
    {
        using var child = PublisherProcess.Start(_launch, _log, Wake);
        _journal(start, "process " + child.Id.ToString(CultureInfo.InvariantCulture), child.Id);
        Watch(child);
        if (Stopping)
        {
            child.CloseInput();
            if (!child.WaitForEnd(_launch.StopMs))
            {
                _log.Warning("the publisher did not end in order within {Limit} ms and is ended by force", _launch.StopMs);
            }
        }

        child.Kill();
        string end = child.WaitForEnd(_launch.StopMs) ? Exit(child.ExitCode) : "it cannot be ended";
        _journal(ShellEventId.PublisherEnded, end, child.Id);
        if (!Stopping)
        {
            _log.Warning("the publisher ended: {End}", end);
        }
    }

    private void Watch(PublisherProcess child)
    {
        while (!Stopping && !child.HasExited)
        {
            _wake.WaitOne(_launch.LookMs);
            if (child.StaysStopped())
            {
                _journal(ShellEventId.PublisherStopped, "stopped by a signal", child.Id);
                return;
            }

            long bytes = child.ResidentBytes();
            if (bytes > _launch.MemoryLimitMb * BytesPerMb)
            {
                _journal(ShellEventId.PublisherOverMemory, $"{bytes / BytesPerMb} MiB in main memory; the limit is {_launch.MemoryLimitMb} MiB", bytes);
                return;
            }

            if (child.Complaint(_launch) is { } silent)
            {
                _journal(ShellEventId.PublisherSilent, silent, null);
                return;
            }
        }
    }

    private void WaitBeforeStart(long livedMs)
    {
        const int DoublingsMax = 20;
        _early = livedMs < _launch.SettledMs ? Math.Min(_early + 1, DoublingsMax) : 0;
        long waitMs = Math.Min(_launch.BackOffMsMax, (long)_launch.BackOffMs << Math.Max(0, _early - 1));
        long end = Environment.TickCount64 + waitMs;
        while (!Stopping && end - Environment.TickCount64 is var left and > 0)
        {
            _wake.WaitOne((int)left);
        }
    }

    private void Wake()
    {
        try
        {
            _wake.Set();
        }
        catch (ObjectDisposedException)
        {
            // The guard has stopped; nobody waits.
        }
    }

    private static string Exit(int code) => code > 128
        ? string.Create(CultureInfo.InvariantCulture, $"signal {code - 128}")
        : string.Create(CultureInfo.InvariantCulture, $"exit code {code}");
}
