using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// The state of one unit: latch, first-out, permit, the way up and the way down. Trips are taken before anything
/// else in a scan; first-out is the earliest scan and, within a scan, the first function in the order of
/// <see cref="FunctionId"/>. Nothing here clears a latch but <see cref="Reset"/>, and a reset starts nothing.
/// </summary>
internal sealed class UnitSequence(UnitMemory unit, SupplyBudget supply, EventSink sink)
{
    /// <summary>A led cool-down ends when no power was asked for this long, ms: the gas cools slower than the cap by itself.</summary>
    private const int NoPowerMs = 60_000;

    /// <summary>
    /// Power that counts as none at the end of a led cool-down, per cent of rated: above the zero error of a power meter.
    /// The limit of RESD would be too much: its removal alone is a fall of some 20 K.
    /// </summary>
    private const double NoPowerPercent = 1;

    private readonly PreFlowGate _gate = new();
    private ScanDelay _noPower;
    private FunctionId _shutdownCause;
    private bool _causeGoneTold;

    /// <summary>Takes a permit back, decided or in effect; power counts as removed from this scan on.</summary>
    public static void Withdraw(UnitMemory unit, EventSink sink, FunctionId cause)
    {
        if (!unit.Permit && !unit.PendingDurable)
        {
            return;
        }

        unit.RemovalScan = unit.Scan;
        unit.Permit = false;
        unit.PendingDurable = false;
        sink.Raise(EventId.PermitWithdrawn, cause);
    }

    /// <summary>Holds or releases a ramp for the shared supply, with its events.</summary>
    public static void Hold(UnitMemory unit, EventSink sink, bool held, double sumKw)
    {
        if (held == unit.RampHeld)
        {
            return;
        }

        unit.RampHeld = held;
        sink.Raise(held ? EventId.RampHeld : EventId.RampReleased, FunctionId.Dmnd, sumKw, unit.Site.SupplyLimitKw);
    }

    /// <summary>Takes the demands of this scan.</summary>
    public void ApplyVerdicts(FunctionStatus[] verdicts)
    {
        for (int i = 1; i < FunctionIds.Count; i++)
        {
            var id = (FunctionId)i;
            ref FunctionStatus verdict = ref verdicts[i];
            if (verdict.ForcedDemand && !unit.PreviousForced[i])
            {
                TakeForced(id);
            }

            if (verdict.State != FunctionState.Demand || verdict.Reaction == Reaction.Alarm)
            {
                continue;
            }

            bool isNew = unit.Previous[i] != FunctionState.Demand || unit.PreviousBypassed[i] != verdict.Bypassed;
            if (verdict.Bypassed)
            {
                TakeBypassed(id, ref verdict, isNew);
                continue;
            }

            if (isNew)
            {
                unit.Trips.CountDemand(id);
            }

            if (verdict.Reaction == Reaction.Removal)
            {
                TakeDemand(id, ref verdict, isNew);
            }
            else
            {
                ShutDown(id);
            }
        }

        TellCauseGone(verdicts);
    }

    /// <summary>Moves the unit on where nothing tripped.</summary>
    public void Progress(FunctionStatus[] verdicts, long lastDurable)
    {
        switch (unit.State)
        {
            case UnitState.PreFlow when _gate.Step(unit, verdicts, supply, sink, lastDurable):
                unit.PendingDurable = false;
                unit.Permit = true;
                Enter(UnitState.Heating);
                break;
            case UnitState.Heating:
                Hold(unit, sink, unit.SupplyFrozen, unit.SitePowerKw);
                if (SetpointLead.Heat(unit))
                {
                    Enter(UnitState.Holding);
                }

                break;
            case UnitState.LedCooldown:
                if (SetpointLead.Cool(unit) || NoPowerLeft())
                {
                    Remove(_shutdownCause);
                }

                break;
            case UnitState.AfterCooling when !unit.HeatStored && unit.PowerProvedOff:
                Enter(UnitState.Standby);
                break;
            case UnitState.Standby when unit.HeatStored && unit.Real[SignalRole.ElementTemperature].IsGood:
                Enter(UnitState.AfterCooling); // the lining soaked back: the blower runs once more
                break;
            default:
                break;
        }
    }

    /// <summary>Clears the latch; the caller has made sure that no cause stands.</summary>
    public void Reset()
    {
        unit.FirstOut = FunctionId.None;
        unit.Trips.CountReset(unit.Scan);
        sink.Raise(EventId.Reset);
        Enter(UnitState.Ready);
    }

    /// <summary>Begins pre-flow; the caller has made sure of the conditions.</summary>
    public void Start(long order)
    {
        unit.StartOrder = order;
        unit.StartedHot = unit.HeatStored;
        sink.Raise(EventId.StartAccepted);
        Enter(UnitState.PreFlow);
    }

    /// <summary>Removes power now and cools with gas.</summary>
    public void Remove(FunctionId cause)
    {
        Withdraw(unit, sink, cause);
        Enter(UnitState.AfterCooling);
    }

    /// <summary>Begins a powered cool-down at the cap.</summary>
    public void Cool(FunctionId cause)
    {
        _shutdownCause = cause;
        _noPower = default;
        SetpointLead.BeginCool(unit);
        Enter(UnitState.LedCooldown);
    }

    /// <summary>Latches a trip without judging: a broken invariant.</summary>
    public void LatchSelf()
    {
        if (unit.State != UnitState.Tripped)
        {
            FunctionStatus none = default;
            Trip(FunctionId.Self, ref none);
        }
        else
        {
            sink.Raise(EventId.Consequence, FunctionId.Self);
        }
    }

    private void TakeDemand(FunctionId id, ref FunctionStatus verdict, bool isNew)
    {
        if (unit.State != UnitState.Tripped)
        {
            Trip(id, ref verdict);
        }
        else if (isNew)
        {
            // The first scan finds the unit tripped by power-on: told as the trip it is.
            EventId told = id == FunctionId.Start ? EventId.Trip : unit.Enforces ? EventId.Consequence : EventId.WouldTrip;
            sink.Raise(told, id, ref verdict, verdict.SinceScan);
        }

        if (isNew && id == FunctionId.Resd)
        {
            sink.Raise(EventId.PowerNotRemoved, id, verdict.Value, verdict.Limit);
        }
    }

    private void TakeBypassed(FunctionId id, ref FunctionStatus verdict, bool isNew)
    {
        if (isNew)
        {
            unit.Trips.CountBypassedDemand(id);
            unit.Bypasses.CountDemand(id);
            sink.Raise(EventId.BypassedDemand, id, ref verdict, verdict.SinceScan);
        }
    }

    private void TakeForced(FunctionId id)
    {
        ref FunctionStatus real = ref unit.RealVerdicts[(int)id];
        unit.Trips.CountForcedDemand(id);
        unit.Forces.CountDemand(id);
        sink.Raise(EventId.ForcedDemand, id, ref real, real.SinceScan);
    }

    private void Trip(FunctionId id, ref FunctionStatus verdict)
    {
        unit.FirstOut = id;
        unit.TripCount++;
        unit.Trips.CountTrip(id);
        _causeGoneTold = false;
        sink.Raise(unit.Enforces ? EventId.Trip : EventId.WouldTrip, id, ref verdict, verdict.SinceScan);
        Withdraw(unit, sink, id);
        Enter(UnitState.Tripped);
        unit.Forces.EndAll(unit, sink);
    }

    private void ShutDown(FunctionId cause)
    {
        if (unit.State is UnitState.Heating or UnitState.Holding)
        {
            sink.Raise(EventId.ControlledShutdown, cause);
            Cool(cause);
        }
        else if (unit.State == UnitState.PreFlow)
        {
            sink.Raise(EventId.ControlledShutdown, cause);
            Remove(cause);
        }
    }

    private bool NoPowerLeft()
    {
        double power = unit.ValueOrNaN(SignalRole.Power);
        bool none = unit.CoolTurned && power < unit.Table.RatedPowerKw * NoPowerPercent / 100;
        return _noPower.Passed(none, unit.Scan, unit.Scans(NoPowerMs));
    }

    private void TellCauseGone(FunctionStatus[] verdicts)
    {
        if (unit.State != UnitState.Tripped)
        {
            return;
        }

        bool gone = PreFlowGate.Blocking(verdicts) == FunctionId.None;
        if (gone && !_causeGoneTold)
        {
            ref FunctionStatus cause = ref verdicts[(int)unit.FirstOut];
            sink.Raise(EventId.CauseGone, unit.FirstOut, cause.Value, cause.Limit);
        }

        _causeGoneTold = gone;
    }

    private void Enter(UnitState state)
    {
        if (state == unit.State)
        {
            return;
        }

        if (unit.State == UnitState.PreFlow)
        {
            _gate.Leave(unit);
        }

        if (state is not (UnitState.PreFlow or UnitState.Heating))
        {
            Hold(unit, sink, false, unit.SitePowerKw);
        }

        sink.Raise(EventId.StateChanged, FunctionId.None, (int)unit.State, (int)state);
        unit.State = state;
    }
}
