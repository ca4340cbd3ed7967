using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// RESD: power is still measured although it was removed (welded contactor, shorted legs, stuck enable). In force
/// whenever no permit is given, once the blanking time after the removal has passed; not while the unit only observes
/// or the key is on local, since then the cabinet powers the heater by right. Its demand keeps the blower up.
/// </summary>
internal sealed class ResidualFunction() : ProtectiveFunction(FunctionId.Resd)
{
    public override void Evaluate(UnitMemory unit, ref FunctionStatus status)
    {
        ref SignalValue power = ref unit.Image[SignalRole.Power];
        bool inForce = unit.Enforces && !unit.KeyLocal && !unit.Permit
            && unit.Scan - unit.RemovalScan >= unit.Scans(unit.Table.Resd.BlankingMs);
        bool condition = inForce && power.IsGood && power.Value >= unit.ResidualKw;
        status.Value = unit.ValueOrNaN(SignalRole.Power);
        status.Limit = unit.ResidualKw;
        status.SinceScan = condition ? unit.PowerSinceScan : -1;
        status.State = !inForce ? FunctionState.Idle
            : unit.PowerResidual ? FunctionState.Demand
            : !power.IsGood ? FunctionState.NotGood
            : condition ? FunctionState.Pending
            : FunctionState.Healthy;
    }
}
