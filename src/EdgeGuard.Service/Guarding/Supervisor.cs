using EdgeGuard.Records.Journal;
using EdgeGuard.Records.Recorder;

namespace EdgeGuard.Service.Guarding;

/// <summary>
/// What the main thread does while the scan thread guards: once a second it looks whether scans progress (and only
/// then keeps the service manager's watchdog alive), journals overruns, clock steps, gaps of the recording and certificates that end, tells a journal that cannot be
/// written, and measures allocation.
/// </summary>
internal sealed class Supervisor
{
    private const int TickMs = 1_000;

    private readonly ScanStatistics _statistics;
    private readonly JournalPort _journal;
    private readonly RawTail _tail;
    private readonly AllocationMeter _allocations;
    private readonly SystemdNotifier _notifier;
    private readonly LinkCertificateWatch _certificates;
    private readonly JournalWatch _journalWatch;
    private long _scans;
    private long _overruns;
    private long _skipped;
    private long _clockSteps;
    private long _dropped;
    private bool _recordingFailed;

    public Supervisor(ScanStatistics statistics, JournalPort journal, RawTail tail, AllocationMeter allocations, SystemdNotifier notifier, LinkCertificateWatch certificates, JournalWatch journalWatch)
    {
        _statistics = statistics;
        _journal = journal;
        _tail = tail;
        _allocations = allocations;
        _notifier = notifier;
        _certificates = certificates;
        _journalWatch = journalWatch;
    }

    /// <summary>Runs until the scan thread has ended.</summary>
    public void Watch(Thread scanThread)
    {
        _notifier.Ready();
        while (!scanThread.Join(TickMs))
        {
            Tick();
        }

        _notifier.Stopping();
    }

    private void Tick()
    {
        long scans = _statistics.Scans;
        if (scans != _scans)
        {
            _scans = scans;
            _notifier.Alive();
        }

        Tell(_statistics.Overruns, ref _overruns, ShellEventId.ScanOverrun, "scan", "scans", "began a whole period late or more");
        Tell(_statistics.Skipped, ref _skipped, ShellEventId.ScanOverrun, "scan deadline was", "scan deadlines were", "given up because the machine stood still");
        Tell(_statistics.ClockSteps, ref _clockSteps, ShellEventId.ClockStep, "scan", "scans", "saw UTC stepped; delays are not touched by that");
        Tell(_tail.Dropped, ref _dropped, ShellEventId.RecordingDropped, "scan is", "scans are", "missing in the raw recording because the disk did not follow");
        _journalWatch.Look(_journal.Health, _journal.Failure, Environment.TickCount64);
        TellRecording();
        _certificates.Look(_journal.UtcNow);
        _allocations.Tick();
    }

    private void TellRecording()
    {
        bool failed = _tail.Failure.Length > 0;
        if (failed != _recordingFailed)
        {
            _recordingFailed = failed;
            _journal.Post(failed ? ShellEventId.RecordingFailed : ShellEventId.RecordingRecovered, failed ? _tail.Failure : "the raw recording is written again");
        }
    }

    private void Tell(long now, ref long told, ShellEventId id, string one, string many, string text)
    {
        if (now != told)
        {
            long count = now - told;
            _journal.Post(id, $"{Counted.Of(count, one, many)} {text}", id == ShellEventId.ClockStep ? null : count);
            told = now;
        }
    }
}
