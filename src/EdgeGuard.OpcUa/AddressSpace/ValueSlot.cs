namespace EdgeGuard.OpcUa.AddressSpace;

/// <summary>
/// A DataValue that is written at a high rate and read by many threads without locks and without boxing. It is a
/// sequence lock: the number is odd while a write is under way; a reader copies the value and keeps the copy only when
/// the number was even and has not moved. A reference within the value is copied whole by the machine, so a discarded
/// copy is never unsafe, only meaningless.
/// </summary>
internal struct ValueSlot
{
    private DataValue _value;
    private long _sequence;

    /// <summary>Number of writes so far.</summary>
    public readonly long Version => Volatile.Read(in _sequence) >> 1;

    public void Set(in DataValue value)
    {
        long sequence = Claim();
        _value = value;
        Volatile.Write(ref _sequence, sequence + 2);
    }

    public readonly long Read(out DataValue value)
    {
        SpinWait spin = default;
        while (true)
        {
            long before = Volatile.Read(in _sequence);
            value = _value;
            Volatile.ReadBarrier();
            if ((before & 1) == 0 && before == _sequence)
            {
                return before >> 1;
            }

            spin.SpinOnce();
        }
    }

    // The exchange is a full barrier: no part of the value is written before the number is odd. A second writer waits,
    // so that a mistake in the host costs time and not a torn value.
    private long Claim()
    {
        SpinWait spin = default;
        while (true)
        {
            long sequence = Volatile.Read(in _sequence);
            if ((sequence & 1) == 0 && Interlocked.CompareExchange(ref _sequence, sequence + 1, sequence) == sequence)
            {
                return sequence;
            }

            spin.SpinOnce();
        }
    }
}
