using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.AddressSpace;

namespace EdgeGuard.Publication.Site;

/// <summary>
/// What clients see when the guard itself falls silent: a value that was usable becomes the last usable one, with its
/// original stamp; after the hold time everything is without communication and without a value. A value that was bad
/// already keeps its own, more telling status until then.
/// </summary>
internal sealed class StaleMarker
{
    private readonly List<VariableNode> _nodes = [];

    public StaleMarker(SiteNodes site)
    {
        _nodes.AddRange(site.Guard.Live);
        _nodes.AddRange(site.Alarms.All);
        _nodes.AddRange(site.Links.SelectMany(static link => link.All));
        foreach (UnitNodes unit in site.Units)
        {
            _nodes.AddRange([unit.State, unit.FirstOut, unit.Permit, unit.PendingDurable, unit.RampHeld, unit.PowerProvedOff, unit.LedSetpoint, unit.ElementSlope, unit.CoolSlope, unit.TripCount, unit.LastTrip, unit.LastTripClass, unit.ResetsTooOften, unit.FunctionsEvaluated, unit.TimeLeft, unit.TripAlarm, .. unit.TripHidden?.All ?? [], .. unit.Use.All]);
            _nodes.AddRange(unit.Signals.OfType<VariableNode>());
            _nodes.AddRange(unit.Commands.OfType<VariableNode>());
            _nodes.AddRange(unit.Forces.OfType<ForceNodes>().SelectMany(static f => f.All));
            foreach (InterlockNodes interlock in unit.Interlocks.OfType<InterlockNodes>())
            {
                _nodes.AddRange([interlock.State, interlock.Value, interlock.Limit, interlock.Alarm, .. interlock.Counts.All, .. interlock.Hidden?.All ?? []]);
                if (interlock.Bypass is { } bypass)
                {
                    _nodes.AddRange([bypass.Active, bypass.Person, bypass.Until]);
                }
            }
        }
    }

    public void Mark(GuardLink link, UaDateTime now)
    {
        foreach (VariableNode node in _nodes)
        {
            node.Sample(out DataValue value);
            if (link != GuardLink.Late)
            {
                node.Set(new DataValue(default, StatusCode.BadNoCommunication, now));
            }
            else if (!value.Status.IsBad())
            {
                node.Set(value with { Status = StatusCode.UncertainNoCommunicationLastUsableValue });
            }
        }
    }
}
