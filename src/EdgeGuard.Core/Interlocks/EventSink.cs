using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// The one way by which events leave the core: numbers them without a gap and refuses to grow. A unit keeps
/// <see cref="Reserve"/> places for the events of a broken invariant, so that even that one is told.
/// </summary>
internal sealed class EventSink
{
    /// <summary>Places of a unit kept for the trip by <see cref="FunctionId.Self"/>.</summary>
    private const int Reserve = 6 + ForceTable.SignalsMax;

    private ScanOutput? _output;
    private long _utcUnixMs;
    private int _unit;
    private int _unitStart;
    private int _limit;

    /// <summary>Highest sequence number raised so far.</summary>
    public long LastSequence { get; private set; }

    /// <summary>Events the unit can still raise in this scan.</summary>
    public int Room => _limit - (_output!.EventCount - _unitStart);

    /// <summary>Opens a scan.</summary>
    public void BeginScan(RawScan scan, ScanOutput output)
    {
        _output = output;
        _utcUnixMs = scan.UtcUnixMs;
        output.EventCount = 0;
    }

    /// <summary>Opens the events of one unit.</summary>
    public void BeginUnit(int unit)
    {
        _unit = unit;
        _unitStart = _output!.EventCount;
        _limit = ScanOutput.EventsPerUnitMax - Reserve;
    }

    /// <summary>Opens the places kept for a broken invariant; events of the unit raised before it stay.</summary>
    public void OpenReserve() => _limit = ScanOutput.EventsPerUnitMax;

    /// <summary>Raises one event about a verdict.</summary>
    public long Raise(EventId id, FunctionId function, ref FunctionStatus verdict, long detail, RefusalReason reason = RefusalReason.None)
    {
        long sequence = Raise(id, function, verdict.Value, verdict.Limit, detail, reason);
        _output!.Events[_output.EventCount - 1].Finding = verdict.Finding;
        return sequence;
    }

    /// <summary>Raises one event and returns its sequence number.</summary>
    public long Raise(
        EventId id, FunctionId function = FunctionId.None, double value = 0, double limit = 0, long detail = 0, RefusalReason reason = RefusalReason.None)
    {
        ScanOutput output = _output!;
        if (output.EventCount - _unitStart >= _limit)
        {
            throw new InvariantFault("More events in one scan than a unit can raise.");
        }

        LastSequence++;
        ref GuardEvent e = ref output.Events[output.EventCount];
        e.Sequence = LastSequence;
        e.Scan = output.Scan;
        e.UtcUnixMs = _utcUnixMs;
        e.Unit = _unit;
        e.Id = id;
        e.Function = function;
        e.Reason = reason;
        e.Finding = Finding.None;
        e.Value = value;
        e.Limit = limit;
        e.Detail = detail;
        output.EventCount++;
        return LastSequence;
    }
}
