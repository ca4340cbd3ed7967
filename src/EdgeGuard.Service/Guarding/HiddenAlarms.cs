using EdgeGuard.Core.Interlocks;
using EdgeGuard.Service.Requests;

namespace EdgeGuard.Service.Guarding;

/// <summary>
/// The latest accepted request that hid each alarm, for those who show it: the ring takes what is new on the scan thread,
/// the status looks it up on its own. Only references move, nothing is allocated.
/// </summary>
public sealed class HiddenAlarms
{
    private readonly RequestOrder?[] _latest;
    private readonly bool[] _new;
    private bool _any;

    /// <summary>Allocates one place for each alarm of each unit.</summary>
    public HiddenAlarms(int unitCount)
    {
        _latest = new RequestOrder?[unitCount * FunctionIds.Count];
        _new = new bool[_latest.Length];
    }

    /// <summary>A request that hides an alarm was accepted. Scan thread only.</summary>
    public void Set(int unit, RequestOrder order)
    {
        ArgumentNullException.ThrowIfNull(order);
        int at = (unit * FunctionIds.Count) + (int)order.Function;
        Volatile.Write(ref _latest[at], order);
        _new[at] = true;
        _any = true;
    }

    /// <summary>The request that hid an alarm last; null when none did. Any thread.</summary>
    public RequestOrder? Latest(int unit, FunctionId alarm) => Volatile.Read(ref _latest[(unit * FunctionIds.Count) + (int)alarm]);

    /// <summary>Takes the next new one; null when there is none. Scan thread only.</summary>
    public RequestOrder? TryTake()
    {
        for (int i = 0; _any && i < _new.Length; i++)
        {
            if (_new[i])
            {
                _new[i] = false;
                return _latest[i];
            }
        }

        _any = false;
        return null;
    }
}
