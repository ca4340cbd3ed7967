using EdgeGuard.Core.Interlocks;
using EdgeGuard.OpcUa;
using EdgeGuard.Records.Ring;

namespace EdgeGuard.Publication.Site;

/// <summary>
/// Writes the bypass of one function. The person is read when a bypass begins or its end moves.
/// </summary>
internal sealed class BypassWriter(BypassNodes nodes, int unit, FunctionId function)
{
    private EndMoment _until;

    public void Write(in FunctionStatus status, ScanRingReader ring, long scanUnixMs, UaDateTime scan)
    {
        nodes.Active.Set(new Variant(status.Bypassed), scan);
        if (_until.Write(nodes.Until, status.Bypassed, status.BypassSecondsLeft, scanUnixMs, scan))
        {
            nodes.Person.Set(new Variant(ring.ReadBypassPerson(unit, function)), scan);
        }

        if (!status.Bypassed)
        {
            nodes.Person.SetNoData(scan);
        }
    }
}
