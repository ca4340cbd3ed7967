using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// SENS: each measuring signal the protection rests on (element, outlet, flow, power) must be good; one that is not
/// for the delay is the last sensor of its role lost: removal. A role that should be there and is not configured is
/// lost too. Where a role has several sensors the voted value is judged; one of them lost is an alarm and, after the
/// time the site allows for it, a controlled shutdown; good ones that differ are an alarm.
/// </summary>
internal sealed class SensorFunction() : ProtectiveFunction(FunctionId.Sens)
{
    private static readonly SignalRole[] Roles =
        [SignalRole.ElementTemperature, SignalRole.OutletTemperature, SignalRole.GasFlow, SignalRole.Power];

    private readonly ScanDelay[] _lost = new ScanDelay[4];

    /// <summary>Value = number of the first role found (−1 when none), limit = 0.</summary>
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
        if (!demands)
        {
            JudgeRedundancy(unit, ref status);
        }
    }

    /// <summary>A sensor lost for too long asks for a controlled shutdown, whatever else is pending; lost or differing sensors are an alarm.</summary>
    private static void JudgeRedundancy(UnitMemory unit, ref FunctionStatus status)
    {
        foreach (RoleVoter voter in unit.Voters)
        {
            bool milder = status.State is FunctionState.Healthy or FunctionState.Alarm;
            if (voter.IsDegradedTooLong)
            {
                Found(ref status, FunctionState.Demand, Finding.RedundantSensorLost, voter);
                status.Reaction = Reaction.Controlled;
                return;
            }

            if (milder && voter.IsDegraded)
            {
                Found(ref status, FunctionState.Alarm, Finding.RedundantSensorLost, voter);
            }
            else if (status.State == FunctionState.Healthy && voter.Deviates)
            {
                Found(ref status, FunctionState.Alarm, Finding.SensorsDiffer, voter);
            }
        }
    }

    private static void Found(ref FunctionStatus status, FunctionState state, Finding finding, RoleVoter voter)
    {
        status.State = state;
        status.Finding = finding;
        status.Value = (int)voter.Role;
        status.SinceScan = voter.Since;
    }
}
