namespace EdgeGuard.Core.Interlocks;

/// <summary>HEAT: the element must not rise faster than the alarm rate. An alarm only; the setpoint is led anyway.</summary>
internal sealed class HeatRateFunction() : ProtectiveFunction(FunctionId.Heat)
{
    private ScanDelay _fast;

    public override void Evaluate(UnitMemory unit, ref FunctionStatus status)
    {
        bool known = !double.IsNaN(unit.ElementSlopeKPerMin);
        _fast.Passed(known && unit.ElementSlopeKPerMin > unit.Table.Cool.HeatAlarmKPerMin, unit.Scan, 0);
        status.Value = unit.ElementSlopeKPerMin;
        status.Limit = unit.Table.Cool.HeatAlarmKPerMin;
        status.SinceScan = _fast.Since;
        status.State = !known ? FunctionState.Idle : _fast.Runs ? FunctionState.Alarm : FunctionState.Healthy;
    }
}
