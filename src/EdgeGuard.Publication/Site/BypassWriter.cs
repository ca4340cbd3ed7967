using EdgeGuard.Core.Interlocks;
using EdgeGuard.OpcUa;
using EdgeGuard.Records.Ring;
using StatusCode = EdgeGuard.OpcUa.StatusCode;

namespace EdgeGuard.Publication.Site;

/// <summary>
/// Writes the bypass of one function. The ring tells the time that is left, rounded up to seconds; the moment of the end is
/// worked out once and kept while it fits, so that clients do not see it waver with each scan. The person is read when a
/// bypass begins or its end moves.
/// </summary>
internal sealed class BypassWriter(BypassNodes nodes, int unit, FunctionId function)
{
    private const int WaverMs = 2_000;
    private const int MsPerSecond = 1_000;

    private long _untilUnixMs;

    public void Write(in FunctionStatus status, ScanRingReader ring, long scanUnixMs, UaDateTime scan)
    {
        nodes.Active.Set(new DataValue(new Variant(status.Bypassed), StatusCode.Good, scan));
        if (!status.Bypassed)
        {
            _untilUnixMs = 0;
            nodes.Person.Set(new DataValue(default, StatusCode.BadNoData, scan));
            nodes.Until.Set(new DataValue(default, StatusCode.BadNoData, scan));
            return;
        }

        long untilUnixMs = scanUnixMs + ((long)status.BypassSecondsLeft * MsPerSecond);
        if (Math.Abs(untilUnixMs - _untilUnixMs) > WaverMs)
        {
            _untilUnixMs = untilUnixMs;
            nodes.Person.Set(new DataValue(new Variant(ring.ReadBypassPerson(unit, function)), StatusCode.Good, scan));
        }

        nodes.Until.Set(new DataValue(new Variant(UaDateTime.FromUnixMs(_untilUnixMs)), StatusCode.Good, scan));
    }
}
