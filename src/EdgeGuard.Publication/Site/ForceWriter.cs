using EdgeGuard.Core.Signals;
using EdgeGuard.OpcUa;
using EdgeGuard.Records.Ring;

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
        ForcedSignal forced = Find(record);
        nodes.Forced.Set(new Variant(forced.Active), scan);
        if (_until.Write(nodes.Until, forced.Active, forced.SecondsLeft, record.UtcUnixMs, scan))
        {
            (string person, string reason) = ring.ReadForcer(unit, role);
            nodes.Person.Set(new Variant(person), scan);
            nodes.Reason.Set(new Variant(reason), scan);
        }

        if (forced.Active)
        {
            _real.Write(forced.Real, record.UtcUnixMs, now);
            nodes.Demands.Set(new Variant(forced.Demands), scan);
        }
        else
        {
            _real.Write(record.Signals[(int)role], record.UtcUnixMs, now);
            nodes.Person.SetNoData(scan);
            nodes.Reason.SetNoData(scan);
            nodes.Demands.SetNoData(scan);
        }
    }

    /// <summary>The force of this signal; an empty one where it has none.</summary>
    private ForcedSignal Find(ScanRingRecord record)
    {
        foreach (ref readonly ForcedSignal forced in record.Forced.AsSpan())
        {
            if (forced.Active && forced.Role == role)
            {
                return forced;
            }
        }

        return default;
    }
}
