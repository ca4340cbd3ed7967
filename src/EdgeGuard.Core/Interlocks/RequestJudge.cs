using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// Takes or refuses an operator's request, always with a reason. A stop is never refused. Reset and start are
/// separate acts with separate conditions.
/// </summary>
internal sealed class RequestJudge(UnitMemory unit, UnitSequence sequence, EventSink sink)
{
    private long _lastId;
    private bool _buttonReleased;

    public void Take(FunctionStatus[] verdicts)
    {
        OperatorRequest request = unit.Raw.Requests[unit.Unit];
        if (request.Kind == RequestKind.None || request.Id == _lastId)
        {
            return;
        }

        _lastId = request.Id;
        RefusalReason reason = Judge(request, verdicts, out FunctionId function);
        if (reason != RefusalReason.None)
        {
            ref FunctionStatus verdict = ref verdicts[(int)function];
            sink.Raise(EventId.RequestRefused, function, ref verdict, request.Id, reason);
            return;
        }

        long order = sink.Raise(EventId.RequestAccepted, detail: request.Id);
        Act(request, order);
    }

    /// <summary>
    /// The reset button of the cabinet, where it is fitted: a press counts once, and only after the button was read
    /// released, so that one that hangs resets nothing. It is a remote reset: off unless configured.
    /// </summary>
    public void TakeButton(FunctionStatus[] verdicts)
    {
        double button = unit.ValueOrNaN(SignalRole.ResetInput);
        bool pressed = button >= 0.5 && _buttonReleased;
        _buttonReleased = button < 0.5;
        if (!pressed || unit.State != UnitState.Tripped)
        {
            return;
        }

        var request = new OperatorRequest { Kind = RequestKind.Reset, Remote = true };
        RefusalReason reason = JudgeReset(request, verdicts, out FunctionId function);
        if (reason == RefusalReason.None)
        {
            sink.Raise(EventId.RequestAccepted);
            sequence.Reset();
            return;
        }

        sink.Raise(EventId.RequestRefused, function, ref verdicts[(int)function], 0, reason);
    }

    /// <summary>A unit whose step broke refuses everything until the guard is restarted.</summary>
    public void TakeBroken()
    {
        OperatorRequest request = unit.Raw.Requests[unit.Unit];
        if (request.Kind != RequestKind.None && request.Id != _lastId)
        {
            _lastId = request.Id;
            sink.Raise(EventId.RequestRefused, FunctionId.Self, detail: request.Id, reason: RefusalReason.CauseStillPresent);
        }
    }

    private RefusalReason Judge(OperatorRequest request, FunctionStatus[] verdicts, out FunctionId function)
    {
        function = FunctionId.None;
        switch (request.Kind)
        {
            case RequestKind.Acknowledge or RequestKind.Stop:
                return RefusalReason.None;
            case RequestKind.Reset:
                return JudgeReset(request, verdicts, out function);
            case RequestKind.Start:
                return JudgeStart(verdicts, out function);
            case RequestKind.Cool:
                return unit.State is UnitState.PreFlow or UnitState.Heating or UnitState.Holding
                    ? RefusalReason.None
                    : RefusalReason.WrongState;
            case RequestKind.Bypass:
                return JudgeBypass(request, out function);
            case RequestKind.Unbypass:
                function = Known(request.Function);
                return unit.Bypasses.Stands(request.Function) ? RefusalReason.None : RefusalReason.NotBypassed;
            case RequestKind.Force:
                return JudgeForce(request);
            case RequestKind.Unforce:
                return unit.Forces.Stands(request.Signal) ? RefusalReason.None : RefusalReason.NotForced;
            case RequestKind.Shelve or RequestKind.Unshelve or RequestKind.RemoveFromService or RequestKind.ReturnToService:
                function = Known(request.Function);
                return unit.Alarms.Judge(unit, request);
            case RequestKind.ClassifyGenuine or RequestKind.ClassifySpurious:
                return unit.Trips.LastTrip == FunctionId.None ? RefusalReason.NoTrip : RefusalReason.None;
            case RequestKind.Learn:
                function = Known(request.Function);
                return Learns(function) ? RefusalReason.None : RefusalReason.NothingToLearn;
            default:
                return RefusalReason.WrongState;
        }
    }

    private RefusalReason JudgeReset(OperatorRequest request, FunctionStatus[] verdicts, out FunctionId function)
    {
        function = FunctionId.None;
        if (unit.State != UnitState.Tripped)
        {
            return RefusalReason.WrongState;
        }

        if (request.Remote && !unit.Table.RemoteReset)
        {
            return RefusalReason.RemoteResetOff;
        }

        function = PreFlowGate.Blocking(verdicts);
        return function == FunctionId.None ? RefusalReason.None : RefusalReason.CauseStillPresent;
    }

    private RefusalReason JudgeStart(FunctionStatus[] verdicts, out FunctionId function)
    {
        function = FunctionId.None;
        if (!unit.Enforces)
        {
            return RefusalReason.ObserveOnly;
        }

        if (unit.State == UnitState.Tripped)
        {
            function = unit.FirstOut;
            return RefusalReason.NotReset;
        }

        if (unit.State is not (UnitState.Ready or UnitState.Standby or UnitState.AfterCooling))
        {
            return RefusalReason.WrongState;
        }

        return JudgeStartConditions(verdicts, out function);
    }

    private RefusalReason JudgeStartConditions(FunctionStatus[] verdicts, out FunctionId function)
    {
        function = FunctionId.None;
        if (!unit.KeySupervised)
        {
            function = FunctionId.Cmdv;
            return RefusalReason.KeyOnLocal;
        }

        if (unit.Raw.Journal != JournalHealth.Healthy)
        {
            function = FunctionId.Jrnl;
            return RefusalReason.JournalNotHealthy;
        }

        if (unit.Forces.ForbidsStart)
        {
            function = FunctionId.Sens;
            return RefusalReason.ValuesForced;
        }

        function = PreFlowGate.BlockingPermit(verdicts);
        if (function != FunctionId.None)
        {
            return RefusalReason.CauseStillPresent;
        }

        if (!unit.PowerProvedOff)
        {
            function = FunctionId.Resd;
            return RefusalReason.PowerNotProvedOff;
        }

        if (!unit.FlowZeroSeen)
        {
            function = FunctionId.Flow;
            return RefusalReason.FlowZeroNotSeen;
        }

        if (!unit.SettingsAgree)
        {
            function = FunctionId.Cmdv;
            return RefusalReason.SettingsNotAsCommissioned;
        }

        bool atStart = unit.WatchdogAgrees && PreFlowGate.OutputAtZero(unit);
        function = atStart ? FunctionId.None : FunctionId.Cmdv;
        return atStart ? RefusalReason.None : RefusalReason.NotInStartPosition;
    }

    /// <summary>What is weakened must be recorded, so a journal that is not healthy forbids it.</summary>
    private RefusalReason JudgeBypass(OperatorRequest request, out FunctionId function)
    {
        function = Known(request.Function);
        if (!unit.Bypasses.Allows(request.Function))
        {
            return RefusalReason.NotBypassable;
        }

        if (request.Minutes < 1 || request.Minutes > unit.Table.Bypass.MaxMinutes)
        {
            return RefusalReason.BypassTime;
        }

        return unit.Raw.Journal == JournalHealth.Healthy ? RefusalReason.None : RefusalReason.JournalNotHealthy;
    }

    /// <summary>As a bypass: what stands between the plant and its protection is recorded first.</summary>
    private RefusalReason JudgeForce(OperatorRequest request)
    {
        if (!unit.Forces.Allows(request.Signal))
        {
            return RefusalReason.NotForcible;
        }

        if (!unit.Forces.AllowsValue(request.Signal, request.Value))
        {
            return RefusalReason.ForceRange;
        }

        if (request.Minutes < 1 || request.Minutes > unit.Table.Force.MaxMinutes)
        {
            return RefusalReason.ForceTime;
        }

        if (!unit.Forces.HasRoom(request.Signal))
        {
            return RefusalReason.TooManyForced;
        }

        return unit.Raw.Journal == JournalHealth.Healthy ? RefusalReason.None : RefusalReason.JournalNotHealthy;
    }
    private bool Learns(FunctionId function) =>
        (function == FunctionId.Bala && unit.Table.Bala is not null) || (function == FunctionId.Sens && unit.Table.Sens.NoiseMs > 0)
        || (function == FunctionId.Phas && unit.Table.Phas?.Alloy is not null);

    private static FunctionId Known(FunctionId function) => (int)function < FunctionIds.Count ? function : FunctionId.None;

    private void Act(OperatorRequest request, long order)
    {
        switch (request.Kind)
        {
            case RequestKind.Bypass:
                unit.Bypasses.Begin(unit, sink, request);
                break;
            case RequestKind.Unbypass:
                unit.Bypasses.End(sink, request.Function);
                break;
            case RequestKind.Force:
                unit.Forces.Begin(unit, sink, request);
                break;
            case RequestKind.Unforce:
                unit.Forces.End(unit, sink, request.Signal);
                break;
            case RequestKind.ClassifyGenuine or RequestKind.ClassifySpurious:
                unit.Trips.Classify(request.Kind == RequestKind.ClassifySpurious ? TripClass.Spurious : TripClass.Genuine, unit.TripCount, sink);
                break;
            case RequestKind.Learn:
                unit.Learns = request.Function;
                sink.Raise(EventId.LearningBegun, request.Function, detail: request.Id);
                break;
            case RequestKind.Shelve or RequestKind.Unshelve or RequestKind.RemoveFromService or RequestKind.ReturnToService:
                unit.Alarms.Act(unit, sink, request);
                break;
            case RequestKind.Acknowledge:
                unit.Alarms.Acknowledge(unit.Scan);
                sink.Raise(EventId.Acknowledged);
                break;
            case RequestKind.Reset:
                sequence.Reset();
                break;
            case RequestKind.Start:
                sequence.Start(order);
                break;
            case RequestKind.Stop when unit.State is UnitState.PreFlow or UnitState.Heating or UnitState.Holding or UnitState.LedCooldown:
                sequence.Remove(FunctionId.Stop);
                break;
            case RequestKind.Cool when unit.State == UnitState.PreFlow:
                sequence.Remove(FunctionId.None);
                break;
            case RequestKind.Cool:
                sequence.Cool(FunctionId.None);
                break;
            default:
                break;
        }
    }
}
