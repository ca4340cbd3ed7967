namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// START, STOP and SELF name causes that no signal carries: power-on, a request, a broken invariant. They take part in
/// the evaluation so that their count is asserted with the rest; START demands in the first scan only.
/// </summary>
internal sealed class LatchFunction(FunctionId id) : ProtectiveFunction(id)
{
    public override void Evaluate(UnitMemory unit, ref FunctionStatus status)
    {
        bool demands = (Id == FunctionId.Start && unit.Scan == 0) || (Id == FunctionId.Self && unit.SelfBroken);
        status.State = demands ? FunctionState.Demand : FunctionState.Idle;
        status.SinceScan = demands ? unit.Scan : -1;
    }
}
