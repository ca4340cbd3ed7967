namespace EdgeGuard.Records.Queues;

/// <summary>
/// Bounded queue of values between exactly one producer thread and exactly one consumer thread. All memory is taken
/// at construction; neither side ever waits, allocates or takes a lock. A full queue refuses: it never overwrites,
/// because what stands in it has been decided already and has to be recorded.
/// </summary>
/// <typeparam name="T">Element, copied in and out.</typeparam>
public sealed class SpscQueue<T>
    where T : struct
{
    private readonly T[] _slots;
    private readonly long _mask;
    private long _written;
    private long _read;

    /// <summary>Allocates the queue.</summary>
    /// <param name="capacity">Elements it can hold; a power of two.</param>
    public SpscQueue(int capacity)
    {
        if (capacity < 1 || (capacity & (capacity - 1)) != 0)
        {
            throw new ArgumentOutOfRangeException(nameof(capacity), capacity, "The capacity of a queue is a power of two.");
        }

        _slots = new T[capacity];
        _mask = capacity - 1;
    }

    /// <summary>Elements the queue can hold.</summary>
    public int Capacity => _slots.Length;

    /// <summary>Elements waiting; exact on either of the two threads, a snapshot elsewhere.</summary>
    public int Count => (int)(Volatile.Read(ref _written) - Volatile.Read(ref _read));

    /// <summary>Puts a copy at the end. Producer thread only.</summary>
    /// <param name="value">The element.</param>
    /// <returns>False when the queue is full; nothing was changed then.</returns>
    public bool TryEnqueue(in T value)
    {
        long written = _written;
        if (written - Volatile.Read(ref _read) >= _slots.Length)
        {
            return false;
        }

        _slots[(int)(written & _mask)] = value;
        Volatile.Write(ref _written, written + 1); // release: the slot is visible before the count
        return true;
    }

    /// <summary>Takes the oldest element. Consumer thread only.</summary>
    /// <param name="value">The element, or its default.</param>
    /// <returns>False when the queue is empty.</returns>
    public bool TryDequeue(out T value)
    {
        long read = _read;
        if (read >= Volatile.Read(ref _written))
        {
            value = default;
            return false;
        }

        value = _slots[(int)(read & _mask)];
        Volatile.Write(ref _read, read + 1);
        return true;
    }
}
