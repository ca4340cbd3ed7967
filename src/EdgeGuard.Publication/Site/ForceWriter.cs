using EdgeGuard.Core.Signals;
using EdgeGuard.OpcUa;
using EdgeGuard.Records.Ring;
using StatusCode = EdgeGuard.OpcUa.StatusCode;

namespace EdgeGuard.Publication.Site;

/// <summary>
/// Writes the force of one signal and its real value. Person and reason are read when a force begins or its end moves.
/// </summary>
internal sealed class ForceWriter(ForceNodes nodes, int unit, SignalRole role)
{
    private readonly SignalWriter _real = new(nodes.Real);
    private EndMoment _until;

    public void Write(ScanRingRecord record, ScanRingReader ring, UaDateTime scan, UaDateTime now)
    {
        foreach (ref readonly ForcedSignal forced in record.Forced.AsSpan())
        {
            if (forced.Active && forced.Role == role)
            {
                _real.Write(forced.Real, record.UtcUnixMs, now);
                WriteForced(forced, ring, record.UtcUnixMs, scan);
                return;
            }
        }

        _real.Write(record.Signals[(int)role], record.UtcUnixMs, now);
        _until.Clear();
        nodes.Forced.Set(new DataValue(new Variant(false), StatusCode.Good, scan));
        nodes.Person.Set(new DataValue(default, StatusCode.BadNoData, scan));
        nodes.Reason.Set(new DataValue(default, StatusCode.BadNoData, scan));
        nodes.Until.Set(_until.ToValue(scan));
        nodes.Demands.Set(new DataValue(default, StatusCode.BadNoData, scan));
    }

    private void WriteForced(in ForcedSignal forced, ScanRingReader ring, long scanUnixMs, UaDateTime scan)
    {
        nodes.Forced.Set(new DataValue(new Variant(true), StatusCode.Good, scan));
        nodes.Demands.Set(new DataValue(new Variant(forced.Demands), StatusCode.Good, scan));
        if (_until.Moves(scanUnixMs, forced.SecondsLeft))
        {
            (string person, string reason) = ring.ReadForcer(unit, role);
            nodes.Person.Set(new DataValue(new Variant(person), StatusCode.Good, scan));
            nodes.Reason.Set(new DataValue(new Variant(reason), StatusCode.Good, scan));
        }

        nodes.Until.Set(_until.ToValue(scan));
    }
}
