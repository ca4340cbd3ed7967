using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// SENS: each measuring signal the protection rests on (element, outlet, flow, power) must be good; one that is not
/// for the delay is the last sensor of its role lost: removal. A role that should be there and is not configured is
/// lost too. Where a role has several sensors the voted value is judged; one of them lost is an alarm and, after the
/// time the site allows for it, a controlled shutdown; good ones that differ are an alarm. A good value that cannot be
/// right (frozen, or jumping time and again) counts as the sensor lost.
/// </summary>
internal sealed class SensorFunction() : ProtectiveFunction(FunctionId.Sens)
{
    private static readonly SignalRole[] Roles =
        [SignalRole.ElementTemperature, SignalRole.OutletTemperature, SignalRole.GasFlow, SignalRole.Power];

    private readonly ScanDelay[] _lost = new ScanDelay[4];
    private readonly FrozenWatch[] _frozen = [new(Roles[0]), new(Roles[1]), new(Roles[2])];
    private readonly JumpWatch[] _jumps = [new(Roles[0]), new(Roles[1])];

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
            JudgeFrozen(unit, ref status);
            JudgeJumps(unit, ref status);
        }
    }

    private void JudgeFrozen(UnitMemory unit, ref FunctionStatus status)
    {
        if (unit.Table.Sens.FrozenMs == 0)
        {
            return;
        }

        for (int i = 0; i < _frozen.Length; i++)
        {
            if (_frozen[i].IsFrozen(unit, unit.Table.Sens))
            {
                Found(ref status, FunctionState.Demand, Finding.Frozen, Roles[i], _frozen[i].Since);
                status.Reaction = Reaction.Removal;
            }
        }
    }

    private void JudgeJumps(UnitMemory unit, ref FunctionStatus status)
    {
        if (double.IsPositiveInfinity(unit.Table.Sens.SlopeMaxKPerSecond))
        {
            return;
        }

        for (int i = 0; i < _jumps.Length; i++)
        {
            _jumps[i].Update(unit, unit.Table.Sens);
            if (_jumps[i].IsLost)
            {
                Found(ref status, FunctionState.Demand, Finding.ForbiddenSlope, Roles[i], _jumps[i].Since);
                status.Reaction = Reaction.Removal;
            }
            else if (_jumps[i].Jumped && status.State == FunctionState.Healthy)
            {
                Found(ref status, FunctionState.Alarm, Finding.ForbiddenSlope, Roles[i], _jumps[i].Since);
            }
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
                Found(ref status, FunctionState.Demand, Finding.RedundantSensorLost, voter.Role, voter.Since);
                status.Reaction = Reaction.Controlled;
                return;
            }

            if (milder && voter.IsDegraded)
            {
                Found(ref status, FunctionState.Alarm, Finding.RedundantSensorLost, voter.Role, voter.Since);
            }
            else if (status.State == FunctionState.Healthy && voter.Deviates)
            {
                Found(ref status, FunctionState.Alarm, Finding.SensorsDiffer, voter.Role, voter.Since);
            }
        }
    }

    private static void Found(ref FunctionStatus status, FunctionState state, Finding finding, SignalRole role, long since)
    {
        status.State = state;
        status.Finding = finding;
        status.Value = (int)role;
        status.SinceScan = since;
    }
}
