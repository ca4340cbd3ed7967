using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// The bypasses of one unit. A bypass takes a trip away for a stated time and never a proof: the function is judged in
/// every scan as ever, its demands are counted, and what the start asks for (flow proved, power proved off) stays asked
/// for. It begins when its event is durable, ends by request, by its expiry on nominal scans or with the run, and its
/// function is in force again in that very scan.
/// </summary>
internal sealed class BypassState
{
    private readonly bool[] _allowed = new bool[FunctionIds.Count];
    private readonly long[] _until = new long[FunctionIds.Count];
    private readonly long[] _asked = new long[FunctionIds.Count];
    private readonly long[] _event = new long[FunctionIds.Count];
    private readonly int[] _demands = new int[FunctionIds.Count];

    public BypassState(BypassTable table)
    {
        foreach (FunctionId function in table.Functions)
        {
            _allowed[(int)function] = FunctionIds.MayBeBypassed(function);
        }
    }

    /// <summary>The site lets this function be bypassed.</summary>
    public bool Allows(FunctionId function) => (int)function < FunctionIds.Count && _allowed[(int)function];

    /// <summary>A bypass is in force or waits for its event.</summary>
    public bool Stands(FunctionId function) => (int)function < FunctionIds.Count && (_until[(int)function] != 0 || _asked[(int)function] != 0);

    /// <summary>Scans the bypass still lasts; 0 when none is in force.</summary>
    public long ScansLeft(FunctionId function, long scan) => Math.Max(0, _until[(int)function] - scan);

    /// <summary>Ends what has expired, then lets begin what has become durable; before the functions of the scan are judged.</summary>
    public void BeginScan(UnitMemory unit, EventSink sink, long lastDurable)
    {
        for (int i = 1; i < FunctionIds.Count; i++)
        {
            if (_until[i] == 0 && _asked[i] == 0)
            {
                continue;
            }

            if (_until[i] != 0 && unit.Scan >= _until[i])
            {
                _until[i] = 0;
                sink.Raise(EventId.BypassExpired, (FunctionId)i, detail: _demands[i]);
            }

            if (_asked[i] != 0 && lastDurable >= _event[i])
            {
                _demands[i] = _until[i] == 0 ? 0 : _demands[i];
                _until[i] = _asked[i] > unit.Scan ? _asked[i] : 0;
                _asked[i] = 0;
            }
        }
    }

    /// <summary>Takes an accepted request; the time counts from now, a later request replaces the expiry of an earlier one.</summary>
    public void Begin(UnitMemory unit, EventSink sink, in OperatorRequest request)
    {
        int i = (int)request.Function;
        _asked[i] = unit.Scan + unit.Scans(request.Minutes * 60_000L);
        _event[i] = sink.Raise(EventId.BypassBegun, request.Function, request.Minutes, unit.Table.Bypass.MaxMinutes, request.Id);
    }

    /// <summary>Ends a bypass before its time; its function is in force from the next scan on.</summary>
    public void End(EventSink sink, FunctionId function)
    {
        _until[(int)function] = 0;
        _asked[(int)function] = 0;
        sink.Raise(EventId.BypassEnded, function, detail: _demands[(int)function]);
    }

    /// <summary>Counts one demand that a bypass took away.</summary>
    public void CountDemand(FunctionId function) => _demands[(int)function]++;
}
