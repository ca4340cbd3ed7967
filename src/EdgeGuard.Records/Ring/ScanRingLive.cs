using EdgeGuard.Core.Signals;

namespace EdgeGuard.Records.Ring;

/// <summary>
/// Figures about the guard itself that change each scan. The scan thread fills one and hands it to
/// <see cref="ScanRingWriter.Write"/>; a reader gets it back. Each figure is whole, the set is not a snapshot.
/// </summary>
public struct ScanRingLive
{
    /// <summary>Scans written since start; filled by the writer.</summary>
    public long ScansWritten;

    /// <summary>Events written since start; filled by the writer.</summary>
    public long EventsWritten;

    /// <summary><see cref="Environment.TickCount64"/> of the last write, ms since boot, comparable between processes of one machine; filled by the writer.</summary>
    public long HeartbeatTickMs;

    /// <summary>UTC of the last scan, ms since 1970-01-01 (simulated in lock-step); filled by the writer.</summary>
    public long HeartbeatUtcUnixMs;

    /// <summary>Bytes the guard process has allocated since start; filled by the writer.</summary>
    public long AllocatedBytes;

    /// <summary>How late the last scan began, µs.</summary>
    public long LatenessLastUs;

    /// <summary>The latest a scan has begun since start, µs.</summary>
    public long LatenessMaxUs;

    /// <summary>Scans that did not end before the next was due.</summary>
    public long Overruns;

    /// <summary>Health of the journal; filled by the writer from the scan's input.</summary>
    public JournalHealth Journal;

    /// <summary>Durable watermark; filled by the writer from the scan's input.</summary>
    public long DurableEvent;

    /// <summary>Scans the raw recording has dropped.</summary>
    public long TailDropped;

    /// <summary>Annunciations since start.</summary>
    public long AlarmsTotal;

    /// <summary>Annunciations of the last ten minutes.</summary>
    public long AlarmsInTenMinutes;

    /// <summary>Most of them in ten minutes.</summary>
    public long AlarmsMostInTenMinutes;

    /// <summary>Average in ten minutes; NaN until known.</summary>
    public double AlarmsAverageInTenMinutes;

    /// <summary>A flood of alarms is on.</summary>
    public bool AlarmFlood;

    /// <summary>Floods begun since start.</summary>
    public long AlarmFloods;

    /// <summary>Share of the time in flood, per cent; NaN until known.</summary>
    public double AlarmFloodPercent;

    /// <summary>Annunciations of high priority since start.</summary>
    public long AlarmsHigh;

    /// <summary>Annunciations of medium priority since start.</summary>
    public long AlarmsMedium;

    /// <summary>Annunciations of low priority since start.</summary>
    public long AlarmsLow;

    /// <summary>Alarms that are shown and whose condition stands.</summary>
    public long AlarmsStanding;

    /// <summary>Alarms nobody has acknowledged.</summary>
    public long AlarmsUnacknowledged;

    /// <summary>Alarms on the shelf.</summary>
    public long AlarmsShelved;

    /// <summary>Alarms suppressed by design while their condition stands.</summary>
    public long AlarmsSuppressed;

    /// <summary>Alarms out of service.</summary>
    public long AlarmsOutOfService;

    /// <summary>Alarms annunciated three times within the last minute.</summary>
    public long AlarmsChattering;

    /// <summary>Alarms shown for more than a day.</summary>
    public long AlarmsStale;
}
