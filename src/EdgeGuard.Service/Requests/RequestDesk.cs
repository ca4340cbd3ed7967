using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Service.Guarding;

namespace EdgeGuard.Service.Requests;

/// <summary>
/// Where people and the scan thread meet: one request per unit from its submission to its decision; a second one is
/// told "busy" instead of queued, because a start that waits behind something forgotten is a surprise. The journal has
/// the request before the core has it: one that cannot be taken down is not put to the core, a stop alone excepted,
/// because nothing may stand between a person and less power. The scan thread never waits here.
/// </summary>
public sealed class RequestDesk : IRequestPort, IDisposable
{
    /// <summary>In place of an identity: another request of the unit is not decided yet.</summary>
    public const long Busy = 0;

    /// <summary>In place of an identity: the journal could not take the request down, so it was not put to the core.</summary>
    public const long Unrecorded = -1;

    // One word holds what the scan thread takes: id, minutes, function or signal, remote, kind. The value of a force stands
    // beside it, written before it and not touched again until the slot is free, seconds after the scan thread took it.
    private const int IdShift = 32;
    private const int MinutesShift = 16;
    private const int FunctionShift = 8;
    private const int RemoteBit = 0x80;
    private const int KindMask = 0x7F;
    private const int Attended = 1;
    private const int Unattended = 2;

    private readonly IRequestJournal _journal;
    private readonly int[] _taken;
    private readonly long[] _pending;
    private readonly double[] _value;
    private readonly long[] _current;
    private readonly RequestOrder?[] _order;
    private readonly GuardEvent[] _decision;
    private readonly AutoResetEvent[] _decided;
    private long _lastId;

    /// <summary>Allocates one slot a unit.</summary>
    public RequestDesk(int unitCount, IRequestJournal journal)
    {
        _journal = journal;
        _taken = new int[unitCount];
        _pending = new long[unitCount];
        _value = new double[unitCount];
        _current = new long[unitCount];
        _order = new RequestOrder?[unitCount];
        _decision = new GuardEvent[unitCount];
        Bypasses = new AcceptedOrders(unitCount, FunctionIds.Count);
        Forces = new AcceptedOrders(unitCount, SignalRoles.Count);
        Hidden = new AcceptedOrders(unitCount, FunctionIds.Count);
        _decided = new AutoResetEvent[unitCount];
        for (int i = 0; i < unitCount; i++)
        {
            _decided[i] = new AutoResetEvent(initialState: false);
        }
    }

    /// <summary>Who bypassed what, for the ring.</summary>
    public AcceptedOrders Bypasses { get; }

    /// <summary>Who forced what and why, for the ring.</summary>
    public AcceptedOrders Forces { get; }

    /// <summary>Who hid which alarm and why, for ring and status.</summary>
    public AcceptedOrders Hidden { get; }

    /// <summary>Journals a request and puts it into the unit's slot.</summary>
    /// <returns>The request's identity, or <see cref="Busy"/> or <see cref="Unrecorded"/>.</returns>
    public long Submit(RequestOrder order)
    {
        ArgumentNullException.ThrowIfNull(order);
        if (Interlocked.CompareExchange(ref _taken[order.Unit], Attended, 0) != 0)
        {
            return Busy;
        }

        long id = NextId();
        _decided[order.Unit].Reset();
        _order[order.Unit] = order;
        Volatile.Write(ref _current[order.Unit], id);
        if (!_journal.Received(order, id) && order.Kind != RequestKind.Stop)
        {
            Volatile.Write(ref _current[order.Unit], 0);
            Volatile.Write(ref _taken[order.Unit], 0);
            return Unrecorded;
        }

        _value[order.Unit] = order.Value;
        Volatile.Write(ref _pending[order.Unit], Packed(id, order));
        return id;
    }

    /// <summary>Like <see cref="Submit"/>, but nobody waits for the decision: the slot is free again when the scan has decided.</summary>
    public long SubmitUnattended(RequestOrder order)
    {
        long id = Submit(order);
        if (id > 0)
        {
            Volatile.Write(ref _taken[order.Unit], Unattended);
        }

        return id;
    }

    /// <summary>
    /// Waits for the decision on a submitted request and frees the unit's slot. False when there was none in time; the
    /// request is withdrawn then. One that a scan has just taken cannot be withdrawn: its decision is waited for.
    /// </summary>
    public bool WaitDecision(int unit, long id, int limitMs, out GuardEvent decision)
    {
        bool decided = _decided[unit].WaitOne(limitMs);
        bool taken = Interlocked.Exchange(ref _pending[unit], 0) == 0;
        decided = decided || (taken && _decided[unit].WaitOne(limitMs));
        decision = _decision[unit];
        Volatile.Write(ref _current[unit], 0);
        Volatile.Write(ref _taken[unit], 0);
        return decided && decision.Detail == id;
    }

    /// <inheritdoc/>
    public void Take(OperatorRequest[] requests)
    {
        ArgumentNullException.ThrowIfNull(requests);
        for (int unit = 0; unit < requests.Length; unit++)
        {
            long pending = Volatile.Read(ref _pending[unit]) == 0 ? 0 : Interlocked.Exchange(ref _pending[unit], 0);
            requests[unit].Kind = (RequestKind)(byte)(pending & KindMask);
            bool forces = requests[unit].Kind is RequestKind.Force or RequestKind.Unforce;
            byte named = (byte)((pending >> FunctionShift) & 0xFF);
            requests[unit].Function = forces ? FunctionId.None : (FunctionId)named;
            requests[unit].Signal = forces ? (SignalRole)named : default;
            requests[unit].Value = forces ? _value[unit] : 0;
            requests[unit].Minutes = (ushort)((pending >> MinutesShift) & 0xFFFF);
            requests[unit].Id = pending >> IdShift;
            requests[unit].Remote = (pending & RemoteBit) != 0;
        }
    }

    /// <inheritdoc/>
    public void Decided(in GuardEvent decision)
    {
        int unit = decision.Unit;
        if ((uint)unit < (uint)_current.Length && Volatile.Read(ref _current[unit]) == decision.Detail)
        {
            _decision[unit] = decision;
            if (decision.Id == EventId.RequestAccepted)
            {
                Keep(_order[unit]);
            }

            if (Volatile.Read(ref _taken[unit]) == Unattended)
            {
                Volatile.Write(ref _taken[unit], 0);
            }
            else
            {
                _decided[unit].Set();
            }
        }
    }

    /// <inheritdoc/>
    public long NextId() => Interlocked.Increment(ref _lastId);

    private void Keep(RequestOrder? order)
    {
        switch (order?.Kind)
        {
            case RequestKind.Bypass:
                Bypasses.Set(order);
                break;
            case RequestKind.Force:
                Forces.Set(order);
                break;
            case RequestKind.Shelve or RequestKind.RemoveFromService:
                Hidden.Set(order);
                break;
            default:
                break; // nobody has to be named beside what it does
        }
    }

    private static long Packed(long id, RequestOrder order) =>
        (id << IdShift) | ((long)order.Minutes << MinutesShift) | ((long)order.Subject << FunctionShift) | (order.Remote ? RemoteBit : 0L) | (long)order.Kind;

    /// <inheritdoc/>
    public void Dispose()
    {
        foreach (AutoResetEvent e in _decided)
        {
            e.Dispose();
        }
    }
}
