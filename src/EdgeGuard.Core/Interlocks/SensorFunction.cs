using EdgeGuard.Core.Signals;
using EdgeGuard.Core.Thermal;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// SENS: each measuring signal the protection rests on (element, outlet, flow, power) must be good; one that is not
/// for the delay is the last sensor of its role lost: removal. A role that should be there and is not configured is
/// lost too. Where a role has several sensors the voted value is judged; one of them lost is an alarm and, after the
/// time the site allows for it, a controlled shutdown; good ones that differ are an alarm. A good value that cannot be
/// right (frozen, or jumping time and again) counts as the sensor lost. Element and outlet that do not fit each other at
/// this power and flow are an alarm: a model can be wrong, and then no heater may lose power for it. So is a power that reads
/// nothing while the heater is heated. A forced value stands
/// in for its sensor here too, and is an alarm for as long as it does; how the sensor itself lives is followed all the while.
/// </summary>
/// <param name="model">Band of element and outlet; null where the site states none.</param>
/// <param name="kept">Noise of the sensors as an earlier run learnt it.</param>
internal sealed class SensorFunction(ModelBandTable? model, LearntFloors kept) : ProtectiveFunction(FunctionId.Sens)
{
    private static readonly SignalRole[] Roles =
        [SignalRole.ElementTemperature, SignalRole.OutletTemperature, SignalRole.GasFlow, SignalRole.Power];

    private readonly ScanDelay[] _lost = new ScanDelay[4];
    private readonly ScanDelay[] _reallyLost = new ScanDelay[4];
    private readonly FrozenWatch[] _frozen = [new(Roles[0]), new(Roles[1]), new(Roles[2])];
    private readonly JumpWatch[] _jumps = [new(Roles[0]), new(Roles[1])];
    private readonly ModelBandWatch? _model = model is null ? null : new ModelBandWatch(model);
    private readonly bool[] _isFrozen = new bool[3];
    private readonly UnreadPowerWatch _power = new();
    private bool _isOutside;
    private bool _isPowerUnread;
    private readonly NoiseWatch[] _noise = [new(Roles[0], kept.ElementK), new(Roles[1], kept.OutletK), new(Roles[2], kept.FlowKgPerHour)];
    private readonly bool[] _endedLearning = new bool[3];
    private ulong _forced;

    /// <inheritdoc/>
    public override bool JudgesForced => true;

    /// <summary>What was learnt of the noise of the sensors.</summary>
    public LearntFloors Learnt => new(_noise[0].Floor, _noise[1].Floor, _noise[2].Floor);

    /// <summary>Tells which sensors have ended learning in this scan.</summary>
    public void TellLearnt(EventSink sink)
    {
        for (int i = 0; i < _noise.Length; i++)
        {
            if (_endedLearning[i])
            {
                sink.Raise(_noise[i].Floor > 0 ? EventId.Learnt : EventId.NotLearnable, Id, _noise[i].Floor, detail: (long)_noise[i].Role);
            }
        }
    }

    /// <summary>Value = number of the first role found (−1 when none), limit = 0.</summary>
    public override void Evaluate(UnitMemory unit, ref FunctionStatus status)
    {
        ulong forced = unit.ForcedInputs(Id);
        if (_forced == 0)
        {
            _lost.CopyTo(_reallyLost, 0);
        }
        else if ((_forced & ~forced) != 0)
        {
            _reallyLost.CopyTo(_lost, 0);
        }

        _forced = forced;
        Follow(unit);
        Judge(unit, _lost, real: false, ref status);
        if (status.State == FunctionState.Healthy && unit.Forces.InEffect != 0)
        {
            Found(ref status, FunctionState.Alarm, Finding.Forced, unit.Forces.First, -1);
        }
    }

    /// <inheritdoc/>
    public override void EvaluateReal(UnitMemory unit, ref FunctionStatus status) => Judge(unit, _reallyLost, real: true, ref status);

    /// <summary>How the sensors move, once a scan.</summary>
    private void Follow(UnitMemory unit)
    {
        for (int i = 0; i < _frozen.Length && unit.Table.Sens.FrozenMs > 0; i++)
        {
            _isFrozen[i] = _frozen[i].IsFrozen(unit, unit.Table.Sens);
        }

        FollowNoise(unit);
        for (int i = 0; i < _jumps.Length && !double.IsPositiveInfinity(unit.Table.Sens.SlopeMaxKPerSecond); i++)
        {
            _jumps[i].Update(unit, unit.Table.Sens);
        }

        _isOutside = _model?.IsOutside(unit) ?? false;
        _isPowerUnread = _power.IsUnread(unit);
    }

    private void FollowNoise(UnitMemory unit)
    {
        if (unit.Table.Sens.NoiseMs == 0)
        {
            return;
        }

        bool learns = unit.Learns == Id;
        unit.Learns = learns ? FunctionId.None : unit.Learns;
        for (int i = 0; i < _noise.Length; i++)
        {
            if (learns)
            {
                _noise[i].BeginLearning();
            }

            _endedLearning[i] = _noise[i].Follow(unit, unit.Table.Sens);
        }
    }

    private void Judge(UnitMemory unit, ScanDelay[] lost, bool real, ref FunctionStatus status)
    {
        int delayScans = unit.Scans(unit.Table.SensDelayMs);
        bool demands = false;
        status.Value = -1;
        status.SinceScan = -1;
        for (int i = 0; i < Roles.Length; i++)
        {
            demands |= lost[i].Passed(!unit.IsGood(Roles[i]), unit.Scan, delayScans);
            if (lost[i].Runs && (status.SinceScan < 0 || lost[i].Since < status.SinceScan))
            {
                status.Value = (int)Roles[i];
                status.SinceScan = lost[i].Since;
            }
        }

        status.State = demands ? FunctionState.Demand : status.SinceScan >= 0 ? FunctionState.Pending : FunctionState.Healthy;
        if (!demands)
        {
            JudgeRedundancy(unit, real, ref status);
            JudgeFrozen(unit, ref status);
            JudgeJumps(unit, ref status);
            if (_isPowerUnread && status.State == FunctionState.Healthy)
            {
                Found(ref status, FunctionState.Alarm, Finding.PowerUnread, SignalRole.Power, _power.Since);
            }

            if (_isOutside && status.State == FunctionState.Healthy)
            {
                Found(ref status, FunctionState.Alarm, Finding.ModelBand, SignalRole.ElementTemperature, _model!.Since);
            }
        }
    }

    /// <summary>A forced value stands still and steps by its nature; that of its sensor is judged beside it.</summary>
    private void JudgeFrozen(UnitMemory unit, ref FunctionStatus status)
    {
        for (int i = 0; i < _frozen.Length; i++)
        {
            if (_isFrozen[i] && !unit.IsForced(Roles[i]))
            {
                Found(ref status, FunctionState.Demand, Finding.Frozen, Roles[i], _frozen[i].Since);
                status.Reaction = Reaction.Removal;
            }
            else if (_noise[i].IsFrozen && !unit.IsForced(Roles[i]))
            {
                Found(ref status, FunctionState.Demand, Finding.BelowNoise, Roles[i], _noise[i].Since);
                status.Reaction = Reaction.Removal;
            }
        }
    }

    private void JudgeJumps(UnitMemory unit, ref FunctionStatus status)
    {
        for (int i = 0; i < _jumps.Length; i++)
        {
            if (unit.IsForced(Roles[i]))
            {
                continue;
            }

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
    private static void JudgeRedundancy(UnitMemory unit, bool real, ref FunctionStatus status)
    {
        foreach (RoleVoter voter in unit.Voters)
        {
            ref readonly RoleVoter.View view = ref (real ? ref voter.Real : ref voter.Judged);
            bool milder = status.State is FunctionState.Healthy or FunctionState.Alarm;
            if (view.IsDegradedTooLong)
            {
                Found(ref status, FunctionState.Demand, Finding.RedundantSensorLost, voter.Role, view.Since);
                status.Reaction = Reaction.Controlled;
                return;
            }

            if (milder && view.IsDegraded)
            {
                Found(ref status, FunctionState.Alarm, Finding.RedundantSensorLost, voter.Role, view.Since);
            }
            else if (status.State == FunctionState.Healthy && view.Deviates)
            {
                Found(ref status, FunctionState.Alarm, Finding.SensorsDiffer, voter.Role, view.Since);
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
