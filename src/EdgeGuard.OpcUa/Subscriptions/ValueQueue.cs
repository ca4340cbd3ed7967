namespace EdgeGuard.OpcUa.Subscriptions;

/// <summary>
/// Queue of one monitored item, of fixed size, allocated once. The rule of overflow is that of OPC 10000-4, 5.12.1.5: the
/// oldest value is discarded and the next oldest marked, or the newest is replaced and the replacing one marked; a
/// queue of one just holds the newest and marks nothing.
/// </summary>
internal sealed class ValueQueue(int size, bool discardOldest)
{
    private readonly DataValue[] _values = new DataValue[size];
    private int _first;

    public int Count { get; private set; }

    public int Size => _values.Length;

    /// <summary>Values lost since it was made.</summary>
    public long Lost { get; private set; }

    /// <summary>Of them those that are an overflow: a queue of one has none (OPC 10000-4, 5.12.1.5).</summary>
    public long Overflows => _values.Length == 1 ? 0 : Lost;

    public bool DiscardOldest => discardOldest;

    /// <summary>The oldest; only when there is one.</summary>
    public ref readonly DataValue Oldest => ref _values[_first];

    /// <summary>The newest, to be completed in place; only when there is one.</summary>
    public ref DataValue Newest => ref _values[Index(Count - 1)];

    public void Add(in DataValue value)
    {
        if (Count < _values.Length)
        {
            Count++;
            Newest = value;
            return;
        }

        Lost++;
        if (_values.Length == 1)
        {
            _values[0] = value;
        }
        else if (discardOldest)
        {
            _first = Index(1);
            Newest = value;
            Mark(ref _values[_first]);
        }
        else
        {
            Newest = value;
            Mark(ref Newest);
        }
    }

    public void RemoveOldest()
    {
        _values[_first] = default;
        _first = Index(1);
        Count--;
    }

    public void Clear()
    {
        Array.Clear(_values);
        (_first, Count) = (0, 0);
    }

    /// <summary>Takes over what another queue holds; what does not fit is discarded by this queue's rule.</summary>
    public void TakeOver(ValueQueue other)
    {
        while (other.Count > 0)
        {
            Add(other.Oldest);
            other.RemoveOldest();
        }
    }

    private int Index(int offset)
    {
        int index = _first + offset;
        return index >= _values.Length ? index - _values.Length : index;
    }

    private static void Mark(ref DataValue value) => value = value with { Status = value.Status.WithOverflow() };
}
