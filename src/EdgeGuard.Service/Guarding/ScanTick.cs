using EdgeGuard.Core.Signals;

namespace EdgeGuard.Service.Guarding;

/// <summary>When a scan is due and how well that was kept.</summary>
public struct ScanTick
{
    /// <summary>Nominal time of the scan on the field clock, µs.</summary>
    public long NominalUs;

    /// <summary>UTC of the nominal time, ms since 1970-01-01.</summary>
    public long UtcUnixMs;

    /// <summary>How far UTC can be trusted.</summary>
    public ClockQuality Clock;

    /// <summary>Measured time since the scan before began, ms; 0 in the first scan and where scans are conducted.</summary>
    public int GapMs;

    /// <summary>How late the scan began after its nominal time, µs.</summary>
    public long LatenessUs;

    /// <summary>Deadlines given up before this one because the machine stood still for too long.</summary>
    public long Skipped;
}
