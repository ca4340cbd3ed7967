using EdgeGuard.Core.Alarms;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Core.Thermal;
using EdgeGuard.OpcUa;
using EdgeGuard.Records.Ring;

namespace EdgeGuard.Publication.Site;

/// <summary>Writes the record of one unit and scan into its nodes.</summary>
internal sealed class UnitWriter
{
    private readonly UnitNodes _nodes;
    private readonly UnitTable _table;
    private readonly int _unit;
    private readonly BypassWriter?[] _bypasses;
    private readonly SignalWriter?[] _signals;
    private readonly ForceWriter?[] _forces;
    private readonly AlarmWriter _trip;
    private readonly AlarmWriter?[] _alarms;

    public UnitWriter(UnitNodes nodes, UnitTable table, int unit)
    {
        (_nodes, _table, _unit) = (nodes, table, unit);
        _signals = [.. nodes.Signals.Select(static n => n is null ? null : new SignalWriter(n))];
        _forces = [.. nodes.Forces.Select((n, role) => n is null ? null : new ForceWriter(n, unit, (SignalRole)role))];
        _bypasses = new BypassWriter?[nodes.Interlocks.Length];
        _trip = new AlarmWriter(nodes.TripAlarm, nodes.TripHidden, unit, AlarmIds.Trip);
        _alarms = new AlarmWriter?[nodes.Interlocks.Length];
        for (int id = 0; id < _bypasses.Length; id++)
        {
            _bypasses[id] = nodes.Interlocks[id]?.Bypass is { } bypass ? new BypassWriter(bypass, unit, (FunctionId)id) : null;
            _alarms[id] = nodes.Interlocks[id] is { } interlock ? new AlarmWriter(interlock.Alarm, interlock.Hidden, unit, (FunctionId)id) : null;
        }
    }

    public void Write(ScanRingRecord record, ScanRingReader ring, UaDateTime now)
    {
        UaDateTime scan = Earlier(UaDateTime.FromUnixMs(record.UtcUnixMs), now);
        _nodes.State.Set(new Variant((uint)record.State), scan);
        _nodes.FirstOut.Set(new Variant((uint)record.FirstOut), scan);
        _nodes.Permit.Set(new Variant(record.Permit), scan);
        _nodes.PendingDurable.Set(new Variant(record.PendingDurable), scan);
        _nodes.RampHeld.Set(new Variant(record.RampHeld), scan);
        _nodes.PowerProvedOff.Set(new Variant(record.PowerProvedOff), scan);
        _nodes.LedSetpoint.SetNumber(record.LedSetpointC, scan);
        _nodes.ElementSlope.SetNumber(record.ElementSlopeKPerMin, scan);
        _nodes.CoolSlope.SetNumber(record.CoolSlopeKPerMin, scan);
        _nodes.TripCount.Set(new Variant(record.TripCount), scan);
        _nodes.LastTrip.Set(new Variant((uint)record.LastTrip), scan);
        _nodes.LastTripClass.Set(new Variant((uint)record.LastTripClass), scan);
        _nodes.ResetsTooOften.Set(new Variant(record.ResetsTooOften), scan);
        _nodes.FunctionsEvaluated.Set(new Variant(record.FunctionsEvaluated), scan);
        for (int role = 0; role < _signals.Length; role++)
        {
            _signals[role]?.Write(record.Signals[role], record.UtcUnixMs, now);
            _forces[role]?.Write(record, ring, scan, now);
        }

        _nodes.TimeLeft.SetNumber(SecondsLeft(record), scan);
        _trip.Write(ring, record.UtcUnixMs, scan);
        _nodes.Use.Write(ring, _unit, scan);
        WriteInterlocks(record, ring, scan);
        WriteCommands(record, scan);
    }

    private void WriteInterlocks(ScanRingRecord record, ScanRingReader ring, UaDateTime scan)
    {
        for (int id = 0; id < _nodes.Interlocks.Length; id++)
        {
            if (_nodes.Interlocks[id] is { } interlock)
            {
                ref readonly FunctionStatus status = ref record.Functions[id];
                interlock.State.Set(new Variant((uint)status.State), scan);
                interlock.Value.SetNumber(status.Value, scan);
                interlock.Limit.SetNumber(status.Limit, scan);
                _alarms[id]?.Write(ring, record.UtcUnixMs, scan);
                WriteCounts(interlock.Counts, record.Counts[id], scan);
                _bypasses[id]?.Write(status, ring, record.UtcUnixMs, scan);
            }
        }
    }

    // As the guard tells it in its status; a ramp that would never arrive has no time left to tell.
    private double SecondsLeft(ScanRingRecord record)
    {
        double seconds = record.State switch
        {
            UnitState.Heating when !record.RampHeld => TimeLeft.RampSeconds(record.LedSetpointC, _table.SetpointC, _table.Cool.RampUpKPerMin),
            UnitState.LedCooldown => TimeLeft.RampSeconds(Math.Max(record.LedSetpointC, _table.Cool.AfterCoolingBelowC), _table.Cool.AfterCoolingBelowC, _table.Cool.RampDownKPerMin),
            _ => double.NaN,
        };
        return double.IsFinite(seconds) ? seconds : double.NaN;
    }

    private static void WriteCounts(CountNodes nodes, in FunctionCounts counts, UaDateTime scan)
    {
        nodes.Demands.Set(new Variant(counts.Demands), scan);
        nodes.Trips.Set(new Variant(counts.Trips), scan);
        nodes.BypassedDemands.Set(new Variant(counts.BypassedDemands), scan);
        nodes.SpuriousTrips.Set(new Variant(counts.SpuriousTrips), scan);
        nodes.ForcedDemands.Set(new Variant(counts.ForcedDemands), scan);
    }

    private void WriteCommands(ScanRingRecord record, UaDateTime scan)
    {
        for (int role = 0; role < _nodes.Commands.Length; role++)
        {
            if (_nodes.Commands[role] is { } command)
            {
                command.SetNumber(record.Commands[role].Write ? record.Commands[role].Value : double.NaN, scan);
            }
        }
    }

    private static UaDateTime Earlier(UaDateTime stamp, UaDateTime now) => stamp < now ? stamp : now;
}
