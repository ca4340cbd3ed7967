using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// Reads the cabinet's own word on its watchdog, where it is fitted. A watchdog that was alive under this permit and
/// is not any more has removed the power: to go on renewing would energise again without a reset. One that never came
/// alive gets its own time and that of a read-back, then counts as dropped; no power was possible until then. A word
/// that cannot be read is treated like an unreadable key.
/// </summary>
internal sealed class WatchdogWatch
{
    private bool _seenAlive;
    private ScanDelay _permitted;
    private ScanDelay _unknown;

    /// <summary>The watchdog has dropped under a permit.</summary>
    public bool Dropped { get; private set; }

    /// <summary>The watchdog dropped in this scan.</summary>
    public bool NewlyDropped { get; private set; }

    /// <summary>The fitted word is not good.</summary>
    public bool NotGood { get; private set; }

    /// <summary>The word has not been good for the delay of SENS.</summary>
    public bool Lost { get; private set; }

    public void Update(UnitMemory unit, int readBackScans)
    {
        double alive = unit.ValueOrNaN(SignalRole.WatchdogAlive);
        bool dead = unit.Permit && alive < 0.5;
        int patienceScans = unit.Scans(unit.Table.WatchdogMs) + readBackScans;
        bool hadTime = _permitted.Passed(unit.Permit, unit.Scan, patienceScans);
        _seenAlive = unit.Permit && (_seenAlive || alive >= 0.5);
        bool dropped = dead && (_seenAlive || hadTime);
        NewlyDropped = dropped && !Dropped;
        Dropped = dropped;
        NotGood = unit.Fitted[(int)SignalRole.WatchdogAlive] && double.IsNaN(alive);
        Lost = _unknown.Passed(NotGood, unit.Scan, unit.Scans(unit.Table.SensDelayMs));
    }
}
