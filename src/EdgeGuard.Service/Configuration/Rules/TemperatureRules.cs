using EdgeGuard.Core.Signals;
using EdgeGuard.Service.Configuration.Drafts;

namespace EdgeGuard.Service.Configuration.Rules;

// One value that is wrong breaks several rungs. It is told once, at the rung that says most; what only follows from it is
// left out, for a person who reads six faults looks for six mistakes.

/// <summary>The ladder of temperatures: setpoint &lt; alarm &lt; trip &lt; destruction and end of the sensor's range.</summary>
internal static class TemperatureRules
{
    public static void Check(SiteDraft site, FaultList faults)
    {
        foreach (UnitDraft unit in site.Units)
        {
            CheckLadder(unit.Elem, "element", unit.ElemAlarmC, faults);
            CheckLadder(unit.Outl, "outlet", unit.OutlAlarmC, faults);
            CheckSetpoint(unit, faults);
            if (!unit.TripsAfterDestruction)
            {
                CheckSensor(unit, unit.Elem, SignalRole.ElementTemperature, "element", faults);
            }

            CheckSensor(unit, unit.Outl, SignalRole.OutletTemperature, "outlet", faults);
            CheckDestruction(unit, faults);
            if (unit.Section.Number("tripSetpointC") >= unit.SetpointC)
            {
                faults.Add(unit.Section.At("tripSetpointC"), "the setpoint written at a trip does not lie below the setpoint", $"{unit.Section.Number("tripSetpointC")} °C", $"less than {unit.SetpointC} °C", "\"tripSetpointC\": 0");
            }
        }
    }

    private static void CheckLadder(Section limits, string what, double alarmC, FaultList faults)
    {
        double tripC = limits.Number("tripC");
        if (alarmC >= tripC)
        {
            faults.Add(limits.At("alarmC"), $"the {what} alarm does not lie below the trip", $"alarm {alarmC} °C, trip {tripC} °C", $"an alarm below {tripC} °C", "to lower the alarm so that a person has time to act before the trip");
        }
    }

    private static void CheckSetpoint(UnitDraft unit, FaultList faults)
    {
        const string Advice = "to lower the setpoint; raise a limit only with the maker's figures for the element and the parts downstream";
        bool outlet = unit.SetpointC >= unit.OutlAlarmC;
        bool element = unit.SetpointC >= unit.ElemAlarmC;
        if (outlet && element)
        {
            faults.Add(unit.Section.At("setpointC"), "the setpoint lies below neither the outlet nor the element alarm", $"setpoint {unit.SetpointC} °C, outlet alarm {unit.OutlAlarmC} °C, element alarm {unit.ElemAlarmC} °C", $"a setpoint below {Math.Min(unit.OutlAlarmC, unit.ElemAlarmC)} °C", Advice);
        }
        else if (outlet || element)
        {
            (Section limits, string what, double alarmC) = outlet ? (unit.Outl, "outlet", unit.OutlAlarmC) : (unit.Elem, "element", unit.ElemAlarmC);
            string alarm = limits.Has("alarmC") ? "alarm" : "alarm (default below the trip)";
            faults.Add(unit.Section.At("setpointC"), $"the setpoint does not lie below the {what} {alarm}", $"setpoint {unit.SetpointC} °C, alarm {alarmC} °C", $"a setpoint below {alarmC} °C", Advice);
        }
    }

    private static void CheckSensor(UnitDraft unit, Section limits, SignalRole role, string what, FaultList faults)
    {
        double tripC = limits.Number("tripC");
        if (unit.BoundSignals.TryGetValue(role, out BoundPoint? bound) && tripC >= bound.CoreRange(unit.Gas).Max)
        {
            faults.Add(limits.At("tripC"), $"the {what} trip lies beyond the plausible range of its sensor", $"{tripC} °C; {bound.Description} ends at {bound.CoreRange(unit.Gas).Max} °C", "a trip inside the range", "to correct the trip, or \"max\" in the map if the sensor reaches further");
        }
    }

    private static void CheckDestruction(UnitDraft unit, FaultList faults)
    {
        double destructionC = unit.Elem.Number("destructionC");
        if (unit.TripsAfterDestruction)
        {
            faults.Add(unit.Elem.At("tripC"), "the element trip does not lie below the temperature of destruction", $"trip {unit.Elem.Number("tripC")} °C, destruction {destructionC} °C", $"a trip well below {destructionC} °C", "a trip that leaves the time of lag and delay before destruction");
        }
    }
}
