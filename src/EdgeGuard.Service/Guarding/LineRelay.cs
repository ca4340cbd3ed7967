using Serilog;

namespace EdgeGuard.Service.Guarding;

/// <summary>
/// Brings lines of the publisher into the guard's log, on a thread of its own. What comes is not trusted: long lines are
/// cut, control characters replaced, and only so many lines a second are written; the rest is counted. An empty line is
/// a sign of life and costs nothing.
/// </summary>
internal sealed class LineRelay
{
    private const int LineBytesMax = 400;
    private const int LinesPerSecondMax = 10;

    private readonly Stream _stream;
    private readonly ILogger _log;
    private readonly Action _ended;
    private readonly byte[] _buffer = new byte[1024];
    private readonly byte[] _line = new byte[LineBytesMax];
    private int _length;
    private long _second;
    private int _lines;
    private long _leftOut;
    private long _heardMs;
    private long _signsHeard;

    public LineRelay(Stream stream, ILogger log, Action ended)
    {
        (_stream, _log, _ended) = (stream, log, ended);
    }

    /// <summary><see cref="Environment.TickCount64"/> when something was heard last; 0 before.</summary>
    public long HeardMs => Volatile.Read(ref _heardMs);

    /// <summary>Times something was heard.</summary>
    public long SignsHeard => Volatile.Read(ref _signsHeard);

    /// <summary>Lines that were left out.</summary>
    public long LeftOut => Volatile.Read(ref _leftOut);

    /// <summary>Reads until the stream ends.</summary>
    public void Run()
    {
        try
        {
            int read;
            while ((read = _stream.Read(_buffer.AsSpan())) > 0)
            {
                Volatile.Write(ref _heardMs, Environment.TickCount64);
                Volatile.Write(ref _signsHeard, _signsHeard + 1);
                Take(_buffer.AsSpan(0, read));
            }

            EndLine();
        }
        catch (Exception e) when (e is IOException or ObjectDisposedException or UnauthorizedAccessException)
        {
            // The pipe is closed: the process has ended.
        }

        _ended();
    }

    private void Take(ReadOnlySpan<byte> bytes)
    {
        foreach (byte b in bytes)
        {
            if (b == (byte)'\n')
            {
                EndLine();
            }
            else if (_length < _line.Length)
            {
                _line[_length++] = b;
            }
        }
    }

    private void EndLine()
    {
        if (_length > 0)
        {
            Write();
            _length = 0;
        }
    }

    private void Write()
    {
        long second = Environment.TickCount64 / 1000;
        _lines = second == _second ? _lines + 1 : 1;
        _second = second;
        if (_lines > LinesPerSecondMax)
        {
            Volatile.Write(ref _leftOut, _leftOut + 1);
            return;
        }

        string text = string.Create(_length, this, static (to, relay) =>
        {
            for (int i = 0; i < to.Length; i++)
            {
                to[i] = relay._line[i] is >= 0x20 and < 0x7F ? (char)relay._line[i] : '?';
            }
        });
        _log.Information("publisher: {Line}", text);
    }
}
