using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// The forced signals of one unit. A force changes what the functions judge and never what a permission rests on: proofs
/// of flow and of power off, stored heat, start position and led setpoint go on with the real value, and what that
/// would have demanded is counted. A force begins when its event is durable, ends by request, by its expiry on nominal
/// scans, with a trip of the unit or with the run, and the real value is judged again with its whole history. It ends with
/// a trip because a reset must ask for the real state of the plant; who needs the force again says so again.
/// </summary>
internal sealed class ForceState
{
    private const int RoleMask = 0xFF;
    private const int CountShift = 8;

    private readonly ForceTable _table;
    private readonly double[] _min = new double[SignalRoles.Count];
    private readonly double[] _max = new double[SignalRoles.Count];
    private readonly Slot[] _slots = new Slot[ForceTable.SignalsMax];

    public ForceState(UnitTable unit)
    {
        _table = unit.Force;
        Array.Fill(_min, double.NaN);
        Array.Fill(_max, double.NaN);
        foreach (ForcibleSignal signal in _table.Signals)
        {
            bool fitted = false;
            foreach (SignalTable table in unit.Signals)
            {
                fitted |= table.Role == signal.Role;
            }

            if (fitted && SignalRoles.MayBeForced(signal.Role))
            {
                _min[(int)signal.Role] = signal.Min;
                _max[(int)signal.Role] = signal.Max;
                IsConfigured = true;
            }
        }
    }

    /// <summary>The site lets at least one signal be forced.</summary>
    public bool IsConfigured { get; }

    /// <summary>Roles whose value is forced in this scan, one bit each.</summary>
    public ulong InEffect { get; private set; }

    /// <summary>The first signal whose value is forced in this scan; only while one is.</summary>
    public SignalRole First => (SignalRole)(byte)System.Numerics.BitOperations.TrailingZeroCount(InEffect);

    /// <summary>A force is in effect or waits for its event, and the site does not let the unit start with one.</summary>
    public bool ForbidsStart => !_table.StartWhileForced && AnyStands;

    /// <summary>The site lets this signal be forced.</summary>
    public bool Allows(SignalRole role) => (int)role < SignalRoles.Count && !double.IsNaN(_min[(int)role]);

    /// <summary>The value lies within what the site allows for the signal.</summary>
    public bool AllowsValue(SignalRole role, double value) => value >= _min[(int)role] && value <= _max[(int)role];

    /// <summary>A force of this signal is in effect or waits for its event.</summary>
    public bool Stands(SignalRole role) => Find(role) >= 0;

    /// <summary>There is room for a force of this signal.</summary>
    public bool HasRoom(SignalRole role) => Find(role) >= 0 || Free() >= 0;

    private bool AnyStands
    {
        get
        {
            bool any = false;
            foreach (ref Slot slot in _slots.AsSpan())
            {
                any |= slot.Stands;
            }

            return any;
        }
    }

    /// <summary>Lets begin what has become durable and ends what has expired; before the image of the scan is judged.</summary>
    public void BeginScan(UnitMemory unit, long lastDurable)
    {
        InEffect = 0;
        foreach (ref Slot slot in _slots.AsSpan())
        {
            if (slot.Asked != 0 && lastDurable >= slot.Event)
            {
                slot.Begin();
            }

            if (slot.Until != 0 && unit.Scan >= slot.Until)
            {
                slot.Until = 0;
                slot.Expired = true;
            }

            InEffect |= slot.Until != 0 ? 1UL << (int)slot.Role : 0;
        }
    }

    /// <summary>Puts the forced values in place of the decoded ones.</summary>
    public void Override(ScanImage image)
    {
        foreach (ref Slot slot in _slots.AsSpan())
        {
            if (slot.Until != 0)
            {
                image[slot.Role] = new SignalValue { Value = slot.Value, Status = StatusCode.GoodLocalOverride, Known = true };
            }
        }
    }

    /// <summary>Tells of the forces that expired with this scan.</summary>
    public void Tell(UnitMemory unit, EventSink sink)
    {
        foreach (ref Slot slot in _slots.AsSpan())
        {
            if (slot.Expired)
            {
                slot.Expired = false;
                Raise(EventId.ForceExpired, unit, sink, in slot);
            }
        }
    }

    /// <summary>Takes an accepted request; the time counts from now, a later request replaces value and expiry of an earlier one.</summary>
    public void Begin(UnitMemory unit, EventSink sink, in OperatorRequest request)
    {
        int found = Find(request.Signal);
        ref Slot slot = ref _slots[found >= 0 ? found : Free()];
        slot.Role = request.Signal;
        slot.AskedValue = request.Value;
        slot.Asked = unit.Scan + unit.Scans(request.Minutes * 60_000L);
        slot.Event = sink.Raise(EventId.ForceBegun, FunctionId.None, request.Value, RealValue(unit, request.Signal), Packed(request.Signal, request.Minutes));
    }

    /// <summary>Ends a force before its time; the real value is judged from the next scan on.</summary>
    public void End(UnitMemory unit, EventSink sink, SignalRole role)
    {
        ref Slot slot = ref _slots[Find(role)];
        Raise(EventId.ForceEnded, unit, sink, in slot);
        slot = default;
    }

    /// <summary>Ends all forces with a trip; the real values are judged from the next scan on.</summary>
    public void EndAll(UnitMemory unit, EventSink sink)
    {
        foreach (ref Slot slot in _slots.AsSpan())
        {
            if (slot.Stands)
            {
                Raise(EventId.ForceEndedByTrip, unit, sink, in slot);
                slot = default;
            }
        }
    }

    /// <summary>Counts a demand of the real values for every forced signal the function rests on.</summary>
    public void CountDemand(FunctionId function)
    {
        foreach (ref Slot slot in _slots.AsSpan())
        {
            slot.Demands += slot.Until != 0 && FunctionIds.RestsOn(function, slot.Role) ? 1 : 0;
        }
    }

    /// <summary>Shows the forces of this scan with the real values beside them.</summary>
    public void Show(UnitMemory unit, ForcedSignal[] shown)
    {
        for (int i = 0; i < _slots.Length; i++)
        {
            ref Slot slot = ref _slots[i];
            shown[i] = slot.Until == 0 ? default : new ForcedSignal
            {
                Active = true,
                Role = slot.Role,
                Real = unit.Decoded[slot.Role],
                SecondsLeft = (int)((((slot.Until - unit.Scan) * unit.Site.ScanMs) + 999) / 1_000),
                Demands = slot.Demands,
            };
        }
    }

    private static void Raise(EventId id, UnitMemory unit, EventSink sink, in Slot slot) =>
        sink.Raise(id, FunctionId.None, slot.Until == 0 && slot.Asked != 0 ? slot.AskedValue : slot.Value, RealValue(unit, slot.Role), Packed(slot.Role, slot.Demands));

    private static double RealValue(UnitMemory unit, SignalRole role) =>
        unit.Decoded[role].IsGood ? unit.Decoded[role].Value : double.NaN;

    private static long Packed(SignalRole role, long count) => (count << CountShift) | ((long)role & RoleMask);

    private int Find(SignalRole role)
    {
        for (int i = 0; i < _slots.Length; i++)
        {
            if (_slots[i].Stands && _slots[i].Role == role)
            {
                return i;
            }
        }

        return -1;
    }

    private int Free()
    {
        for (int i = 0; i < _slots.Length; i++)
        {
            if (!_slots[i].Stands && !_slots[i].Expired)
            {
                return i;
            }
        }

        return -1;
    }

    private struct Slot
    {
        public SignalRole Role;
        public double Value;
        public long Until;
        public double AskedValue;
        public long Asked;
        public long Event;
        public int Demands;
        public bool Expired;

        public readonly bool Stands => Until != 0 || Asked != 0;

        public void Begin()
        {
            Demands = Until == 0 ? 0 : Demands;
            Value = AskedValue;
            Until = Asked;
            Asked = 0;
        }
    }
}
