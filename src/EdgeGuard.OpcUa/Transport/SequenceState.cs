namespace EdgeGuard.OpcUa.Transport;

/// <summary>
/// Sequence numbers of one direction of a channel (OPC 10000-6, 6.7.2.4): each chunk's number is one above the last; above
/// 4 294 966 271 it may start anew below 1024. A number that repeats or jumps is a replay or a loss.
/// </summary>
public struct SequenceState
{
    /// <summary>Above this number a sender may wrap: 2^32 - 1 - 1024.</summary>
    public const uint WrapAbove = 4_294_966_271;

    /// <summary>After a wrap the number must be below this.</summary>
    public const uint WrapBelow = 1024;

    private uint _last;
    private bool _started;

    /// <summary>Continues after a number; for tests of the wrap.</summary>
    public SequenceState(uint last)
    {
        (_last, _started) = (last, true);
    }

    /// <summary>Last number sent or accepted.</summary>
    public readonly uint Last => _last;

    /// <summary>Number of the next chunk sent: from 1, wrapping to 1.</summary>
    public uint Next()
    {
        _last = _last > WrapAbove ? 1 : _last + 1;
        _started = true;
        return _last;
    }

    /// <summary>Whether a received number may follow; only then it is taken.</summary>
    public bool TryAccept(uint number)
    {
        bool follows = !_started || (_last != uint.MaxValue && number == _last + 1) || (_last > WrapAbove && number < WrapBelow);
        if (follows)
        {
            (_last, _started) = (number, true);
        }

        return follows;
    }
}
