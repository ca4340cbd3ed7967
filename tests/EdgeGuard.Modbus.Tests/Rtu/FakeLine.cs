using EdgeGuard.Modbus.Transports;

namespace EdgeGuard.Modbus.Tests.Rtu;

/// <summary>A line in memory: what is written is kept, what is to be read is given in pieces, each so long after the one before.</summary>
internal sealed class FakeLine : ISerialLine
{
    private readonly Queue<(long Due, byte[] Bytes)> _incoming = new();
    private readonly object _gate = new();
    private long _lastDue;

    /// <summary>Called with each request; may queue an answer.</summary>
    public Action<FakeLine, byte[]> OnWrite { get; set; } = static (_, _) => { };

    public List<byte[]> Written { get; } = [];

    public int WrittenCount
    {
        get
        {
            lock (_gate)
            {
                return Written.Count;
            }
        }
    }

    /// <summary>When set, the next call finds the line lost.</summary>
    public bool IsLost { get; set; }

    public bool IsOpen { get; private set; }

    public void Queue(int delayMs, params byte[] bytes)
    {
        lock (_gate)
        {
            _lastDue = Math.Max(_lastDue, Environment.TickCount64) + delayMs;
            _incoming.Enqueue((_lastDue, bytes));
            Monitor.PulseAll(_gate);
        }
    }

    /// <summary>Several pieces, one behind the other without a pause, however busy the machine.</summary>
    public void QueueAll(IEnumerable<byte[]> pieces)
    {
        lock (_gate)
        {
            foreach (byte[] piece in pieces)
            {
                Queue(0, piece);
            }
        }
    }

    public void Open(int timeoutMs) => IsOpen = true;

    public void Close() => IsOpen = false;

    public void Dispose() => Close();

    public int Read(Span<byte> buffer, int timeoutMs)
    {
        long end = Environment.TickCount64 + timeoutMs;
        lock (_gate)
        {
            while (!IsLost)
            {
                long now = Environment.TickCount64;
                if (_incoming.TryPeek(out (long Due, byte[] Bytes) next) && next.Due <= now)
                {
                    _incoming.Dequeue();
                    next.Bytes.CopyTo(buffer);
                    return next.Bytes.Length;
                }

                if (now >= end)
                {
                    return 0;
                }

                Monitor.Wait(_gate, (int)(Math.Min(end, next.Bytes is null ? end : next.Due) - now));
            }
        }

        return -1;
    }

    public bool Write(ReadOnlySpan<byte> bytes, int timeoutMs)
    {
        if (IsLost)
        {
            return false;
        }

        byte[] copy = bytes.ToArray();
        lock (_gate)
        {
            Written.Add(copy);
        }

        OnWrite(this, copy);
        return true;
    }
}
