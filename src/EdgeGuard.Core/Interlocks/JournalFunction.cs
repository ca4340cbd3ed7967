using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// JRNL: what cannot be recorded must not begin. A journal that is not healthy forbids a new permit and is an alarm at
/// once; after the configured time it demands a controlled shutdown, with the protection in force to the end.
/// </summary>
internal sealed class JournalFunction() : ProtectiveFunction(FunctionId.Jrnl)
{
    private ScanDelay _failing;

    public override void Evaluate(UnitMemory unit, ref FunctionStatus status)
    {
        bool healthy = unit.Raw.Journal == JournalHealth.Healthy;
        bool demands = _failing.Passed(!healthy, unit.Scan, unit.Scans(unit.Site.JournalFailureMs));
        status.Value = _failing.Runs ? (unit.Scan - _failing.Since) * (double)unit.Site.ScanMs : 0;
        status.Limit = unit.Site.JournalFailureMs;
        status.SinceScan = _failing.Since;
        status.State = demands ? FunctionState.Demand : healthy ? FunctionState.Healthy : FunctionState.Alarm;
    }
}
