namespace EdgeGuard.Core.Interlocks;

/// <summary>DMND: tells that the unit's ramp is held for the shared supply; who is held is decided by <see cref="SupplyBudget"/>.</summary>
internal sealed class SupplyFunction() : ProtectiveFunction(FunctionId.Dmnd)
{
    private ScanDelay _held;

    public override void Evaluate(UnitMemory unit, ref FunctionStatus status)
    {
        _held.Passed(unit.RampHeld, unit.Scan, 0);
        status.Value = unit.SitePowerKw;
        status.Limit = unit.Site.SupplyLimitKw;
        status.SinceScan = _held.Since;
        status.State = double.IsPositiveInfinity(unit.Site.SupplyLimitKw) ? FunctionState.Idle
            : unit.RampHeld ? FunctionState.Alarm
            : FunctionState.Healthy;
    }
}
