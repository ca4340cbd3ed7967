using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// AFTC: stored heat must be carried away. While element or outlet gas is hot (or the element not known to be cold) the blower is never
/// stopped by the guard (see <see cref="BlowerLead"/>); a blower found below the after-cooling demand then is an alarm.
/// </summary>
internal sealed class AfterCoolingFunction() : ProtectiveFunction(FunctionId.Aftc)
{
    private ScanDelay _stopped;

    public override void Evaluate(UnitMemory unit, ref FunctionStatus status)
    {
        ref SignalValue blower = ref unit.Image[SignalRole.BlowerDemand];
        bool low = blower.IsGood && blower.Value < unit.Table.Cool.BlowerAfterPercent * 0.9;
        _stopped.Passed(unit.HeatStored && low, unit.Scan, 0);
        status.Value = unit.ValueOrNaN(SignalRole.ElementTemperature);
        status.Limit = unit.Table.Cool.AfterCoolingBelowC;
        status.SinceScan = _stopped.Since;
        status.State = !unit.Fitted[(int)SignalRole.BlowerDemand] ? FunctionState.Idle
            : _stopped.Runs ? FunctionState.Alarm
            : FunctionState.Healthy;
    }
}
