using EdgeGuard.Records.Journal;

namespace EdgeGuard.Service.Guarding;

/// <summary>
/// What the main thread does while the scan thread guards: once a second it looks whether scans progress (and only
/// then keeps the service manager's watchdog alive), journals overruns and clock steps, and measures allocation.
/// </summary>
internal sealed class Supervisor
{
    private const int TickMs = 1_000;

    private readonly ScanStatistics _statistics;
    private readonly JournalPort _journal;
    private readonly AllocationMeter _allocations;
    private readonly SystemdNotifier _notifier;
    private long _scans;
    private long _overruns;
    private long _skipped;
    private long _clockSteps;

    public Supervisor(ScanStatistics statistics, JournalPort journal, AllocationMeter allocations, SystemdNotifier notifier)
    {
        _statistics = statistics;
        _journal = journal;
        _allocations = allocations;
        _notifier = notifier;
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

        Tell(_statistics.Overruns, ref _overruns, ShellEventId.ScanOverrun, "scans began a whole period late or more");
        Tell(_statistics.Skipped, ref _skipped, ShellEventId.ScanOverrun, "scan deadlines were given up because the machine stood still");
        Tell(_statistics.ClockSteps, ref _clockSteps, ShellEventId.ClockStep, "scans saw UTC stepped; delays are not touched by that");
        _allocations.Tick();
    }

    private void Tell(long now, ref long told, ShellEventId id, string text)
    {
        if (now != told)
        {
            long count = now - told;
            _journal.Post(id, $"{count} {text}", id == ShellEventId.ScanOverrun ? count : null);
            told = now;
        }
    }
}
