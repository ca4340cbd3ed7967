namespace EdgeGuard.Modbus.Transports;

/// <summary>A fixed receive buffer: bytes come in at the end, frames go out at the front. Never grows.</summary>
internal sealed class ReceiveWindow
{
    private readonly byte[] _buffer;
    private int _start;
    private int _end;

    /// <summary>Makes a window; the capacity must hold a frame and one byte, so that an undecided frame always leaves room.</summary>
    public ReceiveWindow(int capacity) => _buffer = new byte[capacity];

    /// <summary>Bytes received and not consumed.</summary>
    public ReadOnlySpan<byte> Unread => _buffer.AsSpan(_start, _end - _start);

    /// <summary>Room for more, after moving the unread bytes to the front.</summary>
    public Span<byte> MakeRoom()
    {
        if (_start > 0)
        {
            Unread.CopyTo(_buffer);
            _end -= _start;
            _start = 0;
        }

        return _buffer.AsSpan(_end);
    }

    /// <summary>Takes note of received bytes.</summary>
    public void Commit(int count) => _end += count;

    /// <summary>Takes note of consumed bytes.</summary>
    public void Consume(int count) => _start += count;

    /// <summary>Forgets everything.</summary>
    public void Clear()
    {
        _start = 0;
        _end = 0;
    }
}
