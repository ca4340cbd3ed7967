using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Alarms;

/// <summary>
/// The alarms of one unit: what people are told of the verdicts, what they may hide of it and for how long. It is the
/// last part of a unit's scan and nothing that decides reads it, so whatever is hidden, every function judges, trips and
/// writes as ever. The shelf counts nominal scans, missed ones included; nothing hidden outlives the run.
/// </summary>
internal sealed class UnitAlarms
{
    private readonly AlarmPoint[] _points = new AlarmPoint[FunctionIds.Count];
    private readonly bool[] _suppressionTold = new bool[FunctionIds.Count];
    private readonly bool[] _shelfToEnd = new bool[FunctionIds.Count];
    private readonly ShelfTable _table;
    private readonly int _scanMs;
    private bool _stepping;

    public UnitAlarms(UnitTable table, int scanMs)
    {
        _table = table.Shelf;
        _scanMs = scanMs;
        for (int i = 0; i < _points.Length; i++)
        {
            _points[i] = new AlarmPoint(
                new AlarmTable
                {
                    IsTrip = AlarmIds.IsOfTrip((FunctionId)i),
                    MayHideTrip = _table.MayHide((FunctionId)i),
                    IsLatching = false,
                    Priority = AlarmIds.PriorityOf((FunctionId)i),
                    ShelveMostScans = ScanDelay.Scans(_table.MaxMinutes * 60_000L, scanMs),
                },
                scanMs);
        }
    }

    /// <summary>Why a request about an alarm is refused; None when it is not. What is hidden must be recorded, so a journal that is not healthy forbids it; to show an alarm again needs no journal.</summary>
    public RefusalReason Judge(UnitMemory unit, in OperatorRequest request)
    {
        if (!AlarmIds.Exists(request.Function))
        {
            return RefusalReason.NoSuchAlarm;
        }

        bool hides = request.Kind is RequestKind.Shelve or RequestKind.RemoveFromService;
        RefusalReason site = hides ? JudgeBySite(request) : RefusalReason.None;
        if (site != RefusalReason.None)
        {
            return site;
        }

        if (!_points[(int)request.Function].May(InputOf(request.Kind)))
        {
            return RefusalReason.AlarmState;
        }

        return hides && unit.Raw.Journal != JournalHealth.Healthy ? RefusalReason.JournalNotHealthy : RefusalReason.None;
    }

    /// <summary>Does what was judged to be allowed.</summary>
    public void Act(UnitMemory unit, EventSink sink, in OperatorRequest request)
    {
        AlarmPoint point = _points[(int)request.Function];
        switch (request.Kind)
        {
            case RequestKind.Shelve:
                point.Shelve(unit.Scan, unit.Scans(request.Minutes * 60_000L));
                sink.Raise(EventId.AlarmShelved, request.Function, request.Minutes, _table.MaxMinutes, request.Id);
                break;
            case RequestKind.Unshelve:
                point.Unshelve(unit.Scan);
                sink.Raise(EventId.AlarmUnshelved, request.Function, detail: request.Id);
                break;
            case RequestKind.RemoveFromService:
                point.RemoveFromService(unit.Scan);
                sink.Raise(EventId.AlarmRemovedFromService, request.Function, detail: request.Id);
                break;
            default:
                point.ReturnToService(unit.Scan);
                sink.Raise(EventId.AlarmReturnedToService, request.Function, detail: request.Id);
                break;
        }
    }

    /// <summary>A person acknowledges what has been told up to the scan before: nobody has seen yet what begins in this one.</summary>
    public void Acknowledge(long scan)
    {
        foreach (AlarmPoint point in _points)
        {
            point.Acknowledge(scan);
        }
    }

    /// <summary>Takes the verdicts of this scan, after everything was decided, and tells what is hidden by itself or shown again.</summary>
    public void Step(UnitMemory unit, UnitDecision decision, EventSink sink)
    {
        if (_stepping)
        {
            // A step broke off: what was memory of it is not trusted again, and everything is shown.
            Array.Clear(decision.Alarms);
            return;
        }

        _stepping = true;
        for (int i = 0; i < _points.Length; i++)
        {
            StepOne(unit, decision, sink, (FunctionId)i);
        }

        _stepping = false;
    }

    private void StepOne(UnitMemory unit, UnitDecision decision, EventSink sink, FunctionId id)
    {
        AlarmPoint point = _points[(int)id];
        bool condition = id == AlarmIds.Trip ? IsTripped(unit) : AlarmIds.IsRaised(id, decision.Functions[(int)id].State);

        // What people have been told already stays told: it began before the cause that would explain it.
        bool shown = point.State is not AlarmState.Normal && AlarmDiagram.IsOpen(point.State);
        AlarmSuppression rule = shown ? AlarmSuppression.None : Rule(unit, decision, id);
        bool wasShelved = point.State == AlarmState.Shelved;
        point.Step(unit.Scan, condition, rule != AlarmSuppression.None);
        _shelfToEnd[(int)id] |= wasShelved && point.State != AlarmState.Shelved;
        Tell(sink, id, point.State == AlarmState.SuppressedByDesign && condition, rule);
        Publish(unit.Scan, point, rule, condition, ref decision.Alarms[(int)id]);
    }

    private AlarmSuppression Rule(UnitMemory unit, UnitDecision decision, FunctionId id)
    {
        bool first = unit.State == UnitState.Tripped && unit.FirstOut == id;
        switch (first ? AlarmSuppression.None : SuppressionRules.Of(id))
        {
            case AlarmSuppression.LinkLost:
                bool told = decision.Functions[(int)FunctionId.Comm].State is FunctionState.Demand or FunctionState.Pending
                    && AlarmDiagram.IsOpen(_points[(int)FunctionId.Comm].State);
                return told && SuppressionRules.IsLostWithLink(id, in decision.Functions[(int)id], unit, decision.Image)
                    ? AlarmSuppression.LinkLost
                    : AlarmSuppression.None;
            case AlarmSuppression.ForcedByTrip:
                return unit.Enforces && IsTripped(unit) && AlarmDiagram.IsOpen(_points[(int)AlarmIds.Trip].State)
                    ? AlarmSuppression.ForcedByTrip
                    : AlarmSuppression.None;
            default:
                return AlarmSuppression.None;
        }
    }

    /// <summary>Tells while there is room; what does not fit is told in a later scan, since an alarm must not break the unit that raises it.</summary>
    private void Tell(EventSink sink, FunctionId id, bool suppressed, AlarmSuppression rule)
    {
        if (_shelfToEnd[(int)id] && sink.Room > 0)
        {
            _shelfToEnd[(int)id] = false;
            sink.Raise(EventId.AlarmShelvingExpired, id);
        }

        if (suppressed != _suppressionTold[(int)id] && sink.Room > 0)
        {
            _suppressionTold[(int)id] = suppressed;
            sink.Raise(suppressed ? EventId.AlarmSuppressed : EventId.AlarmSuppressionEnded, id, detail: (long)rule);
        }
    }

    private void Publish(long scan, AlarmPoint point, AlarmSuppression rule, bool condition, ref AlarmPointStatus status)
    {
        status.State = point.State;
        status.Suppression = point.State == AlarmState.SuppressedByDesign ? rule : AlarmSuppression.None;
        status.Condition = condition;
        status.JustAnnunciated = point.JustAnnunciated;
        status.IsChattering = point.IsChattering(scan);
        status.IsStale = point.IsStale(scan);
        status.ShelfSecondsLeft = point.State == AlarmState.Shelved ? (int)((((point.ShelvedUntil - scan) * _scanMs) + 999) / 1_000) : 0;
        status.Annunciations = point.Annunciations;
    }

    private RefusalReason JudgeBySite(in OperatorRequest request)
    {
        if (request.Kind == RequestKind.RemoveFromService && !_table.OutOfService)
        {
            return RefusalReason.OutOfServiceOff;
        }

        if (!_table.MayHide(request.Function))
        {
            return RefusalReason.AlarmOfTrip;
        }

        bool wrongTime = request.Kind == RequestKind.Shelve && (request.Minutes < 1 || request.Minutes > _table.MaxMinutes);
        return wrongTime ? RefusalReason.ShelvingTime : RefusalReason.None;
    }

    private static bool IsTripped(UnitMemory unit) => unit.State == UnitState.Tripped && unit.FirstOut is not (FunctionId.None or FunctionId.Start);

    private static AlarmInput InputOf(RequestKind kind) => kind switch
    {
        RequestKind.Shelve => AlarmInput.Shelve,
        RequestKind.Unshelve => AlarmInput.Unshelve,
        RequestKind.RemoveFromService => AlarmInput.RemoveFromService,
        _ => AlarmInput.ReturnToService,
    };
}
