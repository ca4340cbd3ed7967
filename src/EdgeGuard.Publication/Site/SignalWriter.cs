using EdgeGuard.Core.Signals;
using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.AddressSpace;
using StatusCode = EdgeGuard.OpcUa.StatusCode;

namespace EdgeGuard.Publication.Site;

/// <summary>
/// Writes one signal into its node. It keeps the status the guard decided by: good, forced, last
/// usable value with its original time stamp once the link is late, then a bad status without a value. The source stamp
/// is the moment the device was read: the time of the scan less the age of the reading, and never later than now; the
/// same reading keeps its stamp from scan to scan, although both figures are rounded. A
/// reading that is bad has no such moment; its stamp is that of the scan in which the status changed.
/// </summary>
internal sealed class SignalWriter(VariableNode node)
{
    // Time and age are whole milliseconds, the lateness of the scan too: the difference wavers by less than this.
    private const int RoundingMs = 3;

    private (uint Status, UaDateTime Since) _bad;
    private long _readUnixMs;

    public void Write(in SignalValue signal, long scanUnixMs, UaDateTime now)
    {
        uint code = signal.Known ? signal.Status : Core.Signals.StatusCode.BadNotConnected;
        var status = (StatusCode)code;
        if (status.IsBad())
        {
            UaDateTime scan = Earlier(UaDateTime.FromUnixMs(scanUnixMs), now);
            UaDateTime since = _bad.Status == code ? _bad.Since : scan;
            _bad = (code, since);
            node.Set(new DataValue(default, status, since));
            return;
        }

        _bad = default;
        long readUnixMs = scanUnixMs - signal.AgeMs;
        _readUnixMs = Math.Abs(readUnixMs - _readUnixMs) < RoundingMs ? _readUnixMs : readUnixMs;
        UaDateTime read = Earlier(UaDateTime.FromUnixMs(_readUnixMs), now);
        bool isFlag = node.DataType.IsStandard(StandardIds.Boolean);
        node.Set(new DataValue(isFlag ? new Variant(signal.Value != 0) : new Variant(signal.Value), status, read));
    }

    private static UaDateTime Earlier(UaDateTime stamp, UaDateTime now) => stamp < now ? stamp : now;
}
