using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// Looks for a second writer of the permit token. Two guards, or a guard and another client, keep one cabinet's
/// watchdog content between them, so that neither's removal is sure. Own tokens follow one another without a gap and
/// one renewal is outstanding at most: a good read-back is at most <see cref="_lagTokens"/> behind the newest one, and
/// any other value was not written here. The two writers overwrite each other, so the read-back may well show an own
/// token now and then: the finding goes away only when own tokens alone were read for half of the time in which it
/// becomes a demand.
/// </summary>
internal sealed class TokenWatch
{
    /// <summary>Tokens under way besides those a read-back misses by its age: one being written, one being read.</summary>
    private const int UnderWay = 2;

    private readonly bool _readBack;
    private readonly int _lagTokens;
    private bool _stands;
    private ScanDelay _own;
    private ScanDelay _foreign;

    /// <summary>Scan in which another's token was first read; −1 when none is.</summary>
    public long Since => _foreign.Since;

    public TokenWatch(UnitTable table, int scanMs)
    {
        foreach (CommandTable command in table.Commands)
        {
            _readBack |= command.Role == CommandRole.Heartbeat && command.ReadBack == SignalRole.Heartbeat;
        }

        foreach (SignalTable signal in table.Signals)
        {
            _lagTokens = signal.Role == SignalRole.Heartbeat ? ScanDelay.Scans(signal.StaleMs, scanMs) + UnderWay : _lagTokens;
        }
    }

    /// <summary>One scan; true when another's tokens were read for the time and are read now. Without a permit nothing is renewed and nothing judged.</summary>
    public bool Found(UnitMemory unit, int delayScans)
    {
        if (!_readBack || !unit.Permit)
        {
            _stands = false;
            _own = default;
            _foreign = default;
            return false;
        }

        ref SignalValue token = ref unit.Image[SignalRole.Heartbeat];
        bool own = token.IsGood && IsOwn(token.Value, unit.Token);
        bool foreign = token.IsGood && !own;
        bool cleared = _own.Passed(own, unit.Scan, delayScans / 2);
        _stands = foreign || (_stands && !cleared);
        return _foreign.Passed(_stands, unit.Scan, delayScans) && foreign;
    }

    private bool IsOwn(double read, ushort newest)
    {
        if (!(read >= 1 && read <= ushort.MaxValue))
        {
            return false; // 0 is never a renewal: somebody withdrew the permit, or no write has had an effect.
        }

        double behind = newest - read;
        return (behind < 0 ? behind + ushort.MaxValue : behind) <= _lagTokens;
    }
}
