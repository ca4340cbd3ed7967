using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// JRNL: what cannot be recorded must not begin. A journal that is not healthy forbids a new permit and is an alarm at
/// once; one that cannot be written for the configured time demands a controlled shutdown, with the protection in
/// force to the end. A permit that waits for its event for that long is given up, and at once when events were lost,
/// since the watermark can never reach it then; units that run go on, because the journal takes their events.
/// </summary>
internal sealed class JournalFunction() : ProtectiveFunction(FunctionId.Jrnl)
{
    private ScanDelay _failing;
    private ScanDelay _waiting;

    public override void Evaluate(UnitMemory unit, ref FunctionStatus status)
    {
        bool healthy = unit.Raw.Journal == JournalHealth.Healthy;
        bool eventsLost = unit.Raw.Journal == JournalHealth.EventsLost;
        int limitScans = unit.Scans(unit.Site.JournalFailureMs);
        bool failed = _failing.Passed(!healthy && !eventsLost, unit.Scan, limitScans);
        bool waitedInVain = _waiting.Passed(unit.PendingDurable, unit.Scan, limitScans);
        bool demands = failed || waitedInVain || (eventsLost && unit.State == UnitState.PreFlow);
        long since = _failing.Runs ? _failing.Since : waitedInVain ? _waiting.Since : -1;
        status.Value = since >= 0 ? (unit.Scan - since) * (double)unit.Site.ScanMs : 0;
        status.Limit = unit.Site.JournalFailureMs;
        status.SinceScan = since;
        status.State = demands ? FunctionState.Demand : healthy ? FunctionState.Healthy : FunctionState.Alarm;
    }
}
