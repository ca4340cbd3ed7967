namespace EdgeGuard.Service.Guarding;

/// <summary>How well the scan thread kept its deadlines. Written by it alone, read by anyone.</summary>
public sealed class ScanStatistics
{
    private long _scans;
    private long _latenessUs;
    private long _latenessMaxUs;
    private long _stepMaxUs;
    private long _overruns;
    private long _skipped;
    private long _clockSteps;

    /// <summary>Scans completed.</summary>
    public long Scans => Volatile.Read(ref _scans);

    /// <summary>Lateness of the latest scan, µs.</summary>
    public long LatenessUs => Volatile.Read(ref _latenessUs);

    /// <summary>Greatest lateness since start, µs; deadlines given up count from the first of them.</summary>
    public long LatenessMaxUs => Volatile.Read(ref _latenessMaxUs);

    /// <summary>Longest time from the begin of a scan to the end of its effects, µs.</summary>
    public long StepMaxUs => Volatile.Read(ref _stepMaxUs);

    /// <summary>Scans that began a whole period late or more.</summary>
    public long Overruns => Volatile.Read(ref _overruns);

    /// <summary>Deadlines given up because the machine stood still for longer than scans are caught up.</summary>
    public long Skipped => Volatile.Read(ref _skipped);

    /// <summary>Scans in which UTC had been stepped.</summary>
    public long ClockSteps => Volatile.Read(ref _clockSteps);

    internal void Count(in ScanTick tick, long periodUs, long stepUs)
    {
        Volatile.Write(ref _latenessUs, tick.LatenessUs);
        long fromFirstMissedUs = tick.LatenessUs + (tick.Skipped * periodUs);
        Volatile.Write(ref _latenessMaxUs, Math.Max(_latenessMaxUs, fromFirstMissedUs));
        Volatile.Write(ref _stepMaxUs, Math.Max(_stepMaxUs, stepUs));
        Volatile.Write(ref _overruns, _overruns + (fromFirstMissedUs >= periodUs ? 1 : 0));
        Volatile.Write(ref _skipped, _skipped + tick.Skipped);
        Volatile.Write(ref _clockSteps, _clockSteps + (tick.Clock == Core.Signals.ClockQuality.Stepped ? 1 : 0));
        Volatile.Write(ref _scans, _scans + 1);
    }
}
