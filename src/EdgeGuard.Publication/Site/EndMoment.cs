using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.AddressSpace;

namespace EdgeGuard.Publication.Site;

/// <summary>
/// The moment at which a bypass, a force or a shelf ends. The ring tells the time that is left, rounded up to seconds; the
/// moment is worked out once and kept while it fits, so that clients do not see it waver with each scan.
/// </summary>
internal struct EndMoment
{
    private const int WaverMs = 2_000;
    private const int MsPerSecond = 1_000;

    private long _unixMs;

    /// <summary>Takes what the ring tells and shows it. True where it begins or its end has moved, so that person and reason are read again.</summary>
    /// <param name="until">Variable that shows it; no data where nothing lasts.</param>
    /// <param name="lasts">Whether it is in force.</param>
    /// <param name="secondsLeft">Time left, s.</param>
    /// <param name="scanUnixMs">UTC of the scan, Unix ms.</param>
    /// <param name="stamp">Stamp of the value.</param>
    public bool Write(VariableNode until, bool lasts, long secondsLeft, long scanUnixMs, UaDateTime stamp)
    {
        long unixMs = lasts ? scanUnixMs + (secondsLeft * MsPerSecond) : 0;
        bool moves = lasts && Math.Abs(unixMs - _unixMs) > WaverMs;
        _unixMs = moves || !lasts ? unixMs : _unixMs;
        until.SetMoment(_unixMs, stamp);
        return moves;
    }
}
