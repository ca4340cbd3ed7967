using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// HARD mirrors the hardwired chain: an open chain demands at once, since the cabinet has removed power already and
/// the latch only has to agree. An unreadable chain votes to trip after the delay of SENS.
/// </summary>
internal sealed class HardFunction() : ProtectiveFunction(FunctionId.Hard)
{
    private ScanDelay _open;
    private ScanDelay _unknown;

    public override void Evaluate(UnitMemory unit, ref FunctionStatus status)
    {
        if (!unit.Fitted[(int)SignalRole.ChainHealthy])
        {
            status.State = FunctionState.Idle;
            return;
        }

        ref SignalValue chain = ref unit.Image[SignalRole.ChainHealthy];
        bool open = _open.Passed(chain.IsGood && chain.Value < 0.5, unit.Scan, 0);
        bool unknown = _unknown.Passed(!chain.IsGood, unit.Scan, unit.Scans(unit.Table.SensDelayMs));
        status.Value = unit.ValueOrNaN(SignalRole.ChainHealthy);
        status.Limit = 1;
        status.Finding = chain.IsGood ? Finding.None : Finding.NotReadable; // a cut cable is no open chain
        status.SinceScan = open ? _open.Since : _unknown.Since;
        status.State = open || unknown ? FunctionState.Demand : chain.IsGood ? FunctionState.Healthy : FunctionState.NotGood;
    }
}
