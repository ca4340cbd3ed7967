using EdgeGuard.Core.Alarms;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Core.Thermal;
using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.Records.Ring;
using StatusCode = EdgeGuard.OpcUa.StatusCode;

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
        Set(_nodes.State, new Variant((uint)record.State), scan);
        Set(_nodes.FirstOut, new Variant((uint)record.FirstOut), scan);
        Set(_nodes.Permit, new Variant(record.Permit), scan);
        Set(_nodes.PendingDurable, new Variant(record.PendingDurable), scan);
        Set(_nodes.RampHeld, new Variant(record.RampHeld), scan);
        Set(_nodes.PowerProvedOff, new Variant(record.PowerProvedOff), scan);
        SetNumber(_nodes.LedSetpoint, record.LedSetpointC, scan);
        SetNumber(_nodes.ElementSlope, record.ElementSlopeKPerMin, scan);
        SetNumber(_nodes.CoolSlope, record.CoolSlopeKPerMin, scan);
        Set(_nodes.TripCount, new Variant(record.TripCount), scan);
        Set(_nodes.LastTrip, new Variant((uint)record.LastTrip), scan);
        Set(_nodes.LastTripClass, new Variant((uint)record.LastTripClass), scan);
        Set(_nodes.ResetsTooOften, new Variant(record.ResetsTooOften), scan);
        Set(_nodes.FunctionsEvaluated, new Variant(record.FunctionsEvaluated), scan);
        for (int role = 0; role < _signals.Length; role++)
        {
            _signals[role]?.Write(record.Signals[role], record.UtcUnixMs, now);
            _forces[role]?.Write(record, ring, scan, now);
        }

        SetNumber(_nodes.TimeLeft, SecondsLeft(record), scan);
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
                Set(interlock.State, new Variant((uint)status.State), scan);
                SetNumber(interlock.Value, status.Value, scan);
                SetNumber(interlock.Limit, status.Limit, scan);
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
        Set(nodes.Demands, new Variant(counts.Demands), scan);
        Set(nodes.Trips, new Variant(counts.Trips), scan);
        Set(nodes.BypassedDemands, new Variant(counts.BypassedDemands), scan);
        Set(nodes.SpuriousTrips, new Variant(counts.SpuriousTrips), scan);
        Set(nodes.ForcedDemands, new Variant(counts.ForcedDemands), scan);
    }

    private void WriteCommands(ScanRingRecord record, UaDateTime scan)
    {
        for (int role = 0; role < _nodes.Commands.Length; role++)
        {
            if (_nodes.Commands[role] is { } command)
            {
                SetNumber(command, record.Commands[role].Write ? record.Commands[role].Value : double.NaN, scan);
            }
        }
    }

    private static void Set(VariableNode node, Variant value, UaDateTime stamp) => node.Set(new DataValue(value, StatusCode.Good, stamp));

    // The core says "unknown" by NaN; a client is told so by the status and gets no number to average.
    private static void SetNumber(VariableNode node, double value, UaDateTime stamp) =>
        node.Set(double.IsNaN(value) ? new DataValue(default, StatusCode.BadNoData, stamp) : new DataValue(new Variant(value), StatusCode.Good, stamp));

    private static UaDateTime Earlier(UaDateTime stamp, UaDateTime now) => stamp < now ? stamp : now;
}
