using EdgeGuard.Core.Interlocks;
using EdgeGuard.OpcUa;
using EdgeGuard.Records.Ring;
using StatusCode = EdgeGuard.OpcUa.StatusCode;

namespace EdgeGuard.Publication.Site;

/// <summary>
/// Writes the bypass of one function. The person is read when a bypass begins or its end moves.
/// </summary>
internal sealed class BypassWriter(BypassNodes nodes, int unit, FunctionId function)
{
    private EndMoment _until;

    public void Write(in FunctionStatus status, ScanRingReader ring, long scanUnixMs, UaDateTime scan)
    {
        nodes.Active.Set(new DataValue(new Variant(status.Bypassed), StatusCode.Good, scan));
        if (!status.Bypassed)
        {
            _until.Clear();
            nodes.Person.Set(new DataValue(default, StatusCode.BadNoData, scan));
            nodes.Until.Set(_until.ToValue(scan));
            return;
        }

        if (_until.Moves(scanUnixMs, status.BypassSecondsLeft))
        {
            nodes.Person.Set(new DataValue(new Variant(ring.ReadBypassPerson(unit, function)), StatusCode.Good, scan));
        }

        nodes.Until.Set(_until.ToValue(scan));
    }
}
