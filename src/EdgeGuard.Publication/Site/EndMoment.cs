using EdgeGuard.OpcUa;
using StatusCode = EdgeGuard.OpcUa.StatusCode;

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

    /// <summary>Takes what the ring tells. True where it begins or its end has moved, so that person and reason are read again.</summary>
    /// <param name="scanUnixMs">UTC of the scan, Unix ms.</param>
    /// <param name="secondsLeft">Time left, s.</param>
    public bool Moves(long scanUnixMs, long secondsLeft)
    {
        long unixMs = scanUnixMs + (secondsLeft * MsPerSecond);
        if (Math.Abs(unixMs - _unixMs) <= WaverMs)
        {
            return false;
        }

        _unixMs = unixMs;
        return true;
    }

    /// <summary>Nothing lasts any more.</summary>
    public void Clear() => _unixMs = 0;

    /// <summary>The moment as a value; no data where nothing lasts.</summary>
    /// <param name="scan">Stamp of the value.</param>
    public readonly DataValue ToValue(UaDateTime scan) => _unixMs == 0
        ? new DataValue(default, StatusCode.BadNoData, scan)
        : new DataValue(new Variant(UaDateTime.FromUnixMs(_unixMs)), StatusCode.Good, scan);
}
