using EdgeGuard.Modbus.Transports;

namespace EdgeGuard.Modbus.Tests.Rtu;

/// <summary>A line in memory: what is written is kept, what is to be read is given in pieces, each after a delay.</summary>
internal sealed class FakeLine : ISerialLine
{
    private readonly Queue<(int DelayMs, byte[] Bytes)> _incoming = new();
    private readonly Lock _gate = new();

    /// <summary>Called with each request; may queue an answer.</summary>
    public Action<FakeLine, byte[]> OnWrite { get; set; } = static (_, _) => { };

    public List<byte[]> Written { get; } = [];

    /// <summary>When set, the next call finds the line lost.</summary>
    public bool IsLost { get; set; }

    public bool IsOpen { get; private set; }

    public void Queue(int delayMs, params byte[] bytes)
    {
        lock (_gate)
        {
            _incoming.Enqueue((delayMs, bytes));
        }
    }

    public void Open(int timeoutMs) => IsOpen = true;

    public void Close() => IsOpen = false;

    public void Dispose() => Close();

    public int Read(Span<byte> buffer, int timeoutMs)
    {
        if (IsLost)
        {
            return -1;
        }

        (int DelayMs, byte[] Bytes) next;
        lock (_gate)
        {
            if (!_incoming.TryPeek(out next) || next.DelayMs > timeoutMs)
            {
                next = (timeoutMs, []);
            }
            else
            {
                _incoming.Dequeue();
            }
        }

        Thread.Sleep(next.DelayMs);
        lock (_gate)
        {
            if (next.Bytes.Length == 0 && _incoming.TryPeek(out (int DelayMs, byte[] Bytes) waiting))
            {
                // Time has passed for what waits.
                _incoming.Dequeue();
                Queue<(int, byte[])> rest = new(_incoming);
                _incoming.Clear();
                _incoming.Enqueue((Math.Max(0, waiting.DelayMs - timeoutMs), waiting.Bytes));
                foreach ((int, byte[]) item in rest)
                {
                    _incoming.Enqueue(item);
                }
            }
        }

        next.Bytes.CopyTo(buffer);
        return next.Bytes.Length;
    }

    public bool Write(ReadOnlySpan<byte> bytes, int timeoutMs)
    {
        if (IsLost)
        {
            return false;
        }

        byte[] copy = bytes.ToArray();
        Written.Add(copy);
        OnWrite(this, copy);
        return true;
    }
}
