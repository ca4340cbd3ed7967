namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// COOL: the mean slope of the configured signal must not fall faster than the cap and its tolerance. An alarm only:
/// power is never put back to slow a cooling. The event tells "led" (a permit was given) from "forced by trip".
/// </summary>
internal sealed class CoolRateFunction() : ProtectiveFunction(FunctionId.Cool)
{
    private ScanDelay _fast;

    public override void Evaluate(UnitMemory unit, ref FunctionStatus status)
    {
        double limit = -(unit.Table.Cool.RampDownKPerMin + unit.Table.Cool.ToleranceKPerMin);
        bool known = !double.IsNaN(unit.CoolSlopeKPerMin);
        _fast.Passed(known && unit.CoolSlopeKPerMin < limit, unit.Scan, 0);
        status.Value = unit.CoolSlopeKPerMin;
        status.Limit = limit;
        status.SinceScan = _fast.Since;
        status.State = !known ? FunctionState.Idle : _fast.Runs ? FunctionState.Alarm : FunctionState.Healthy;
    }
}
