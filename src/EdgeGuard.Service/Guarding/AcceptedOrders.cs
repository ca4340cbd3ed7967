using EdgeGuard.Service.Requests;

namespace EdgeGuard.Service.Guarding;

/// <summary>
/// The latest accepted request about each function, alarm or signal, for those who tell by whom it was made and why: the
/// ring takes what is new on the scan thread, the status looks it up on its own. Only references move, nothing is allocated.
/// </summary>
public sealed class AcceptedOrders
{
    private readonly int _subjectCount;
    private readonly RequestOrder?[] _latest;
    private readonly bool[] _new;
    private bool _any;

    /// <summary>Allocates one place for each subject of each unit.</summary>
    /// <param name="unitCount">Number of units.</param>
    /// <param name="subjectCount">How many functions or signals a request can be about (<see cref="RequestOrder.Subject"/>).</param>
    public AcceptedOrders(int unitCount, int subjectCount)
    {
        _subjectCount = subjectCount;
        _latest = new RequestOrder?[unitCount * subjectCount];
        _new = new bool[_latest.Length];
    }

    /// <summary>A request was accepted. Scan thread only.</summary>
    public void Set(RequestOrder order)
    {
        ArgumentNullException.ThrowIfNull(order);
        int at = At(order.Unit, order.Subject);
        Volatile.Write(ref _latest[at], order);
        _new[at] = true;
        _any = true;
    }

    /// <summary>The latest request about a subject; null when there was none. Any thread.</summary>
    public RequestOrder? Latest(int unit, int subject) => Volatile.Read(ref _latest[At(unit, subject)]);

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

    private int At(int unit, int subject) => (unit * _subjectCount) + subject;
}
