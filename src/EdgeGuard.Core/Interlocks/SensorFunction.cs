using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// SENS: each measuring signal the protection rests on (element, outlet, flow, power) must be good; one that is not
/// for the delay is the last sensor of its role lost. A role that should be there and is not configured is lost too.
/// </summary>
internal sealed class SensorFunction() : ProtectiveFunction(FunctionId.Sens)
{
    private static readonly SignalRole[] Roles =
        [SignalRole.ElementTemperature, SignalRole.OutletTemperature, SignalRole.GasFlow, SignalRole.Power];

    private readonly ScanDelay[] _lost = new ScanDelay[4];

    /// <summary>Value = number of the first role lost (−1 when none), limit = 0.</summary>
    public override void Evaluate(UnitMemory unit, ref FunctionStatus status)
    {
        int delayScans = unit.Scans(unit.Table.SensDelayMs);
        bool demands = false;
        status.Value = -1;
        status.SinceScan = -1;
        for (int i = 0; i < Roles.Length; i++)
        {
            demands |= _lost[i].Passed(!unit.IsGood(Roles[i]), unit.Scan, delayScans);
            if (_lost[i].Runs && (status.SinceScan < 0 || _lost[i].Since < status.SinceScan))
            {
                status.Value = (int)Roles[i];
                status.SinceScan = _lost[i].Since;
            }
        }

        status.State = demands ? FunctionState.Demand : status.SinceScan >= 0 ? FunctionState.Pending : FunctionState.Healthy;
    }
}
