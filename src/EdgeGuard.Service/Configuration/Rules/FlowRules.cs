using EdgeGuard.Core.Signals;
using EdgeGuard.Service.Configuration.Drafts;

namespace EdgeGuard.Service.Configuration.Rules;

// A blower at fixed speed moves less mass as the gas heats. So the flow proved cold must be above the limit by the
// share that is lost when hot (hotToColdFlow), or the unit trips on its own heat-up.

/// <summary>Minimum flow and its proving.</summary>
internal static class FlowRules
{
    public static void Check(SiteDraft site, FaultList faults)
    {
        foreach (UnitDraft unit in site.Units)
        {
            CheckProving(unit.Flow, faults);
            CheckRange(unit, faults);
            if (unit.AfterCoolingKgPerHour > unit.Flow.Number("limitKgPerHour"))
            {
                faults.Add(unit.Flow.At("afterCoolingKgPerHour"), "after-cooling would need more flow than heating", $"{unit.AfterCoolingKgPerHour} kg/h", $"at most the flow limit, {unit.Flow.Number("limitKgPerHour")} kg/h", "to leave \"afterCoolingKgPerHour\" out");
            }

            if (unit.Flow.Number("hotPreFlowMs") > unit.Flow.Number("preFlowMs"))
            {
                faults.Add(unit.Flow.At("hotPreFlowMs"), "the hot pre-flow is longer than the cold one", $"{unit.Flow.Number("hotPreFlowMs")} ms", $"at most {unit.Flow.Number("preFlowMs")} ms", "to state both \"preFlowMs\" and \"hotPreFlowMs\"");
            }
        }
    }

    private static void CheckProving(Section flow, FaultList faults)
    {
        double limit = flow.Number("limitKgPerHour");
        double proving = flow.Number("provingKgPerHour");
        double share = flow.Number("hotToColdFlow");
        if (proving <= limit)
        {
            faults.Add(flow.At("provingKgPerHour"), "the proving flow does not lie above the flow limit", $"proving {proving} kg/h, limit {limit} kg/h", $"more than {limit} kg/h", "the cold flow of the blower less its spread");
        }
        else if (proving < limit / share)
        {
            faults.Add(flow.At("provingKgPerHour"), "the proving flow leaves no margin for hot gas", $"proving {proving} kg/h, limit {limit} kg/h, hot to cold flow {share}", $"at least {Math.Ceiling(limit / share)} kg/h", "a higher proving flow, or \"hotToColdFlow\" as measured on this blower");
        }
    }

    private static void CheckRange(UnitDraft unit, FaultList faults)
    {
        double proving = unit.Flow.Number("provingKgPerHour");
        if (unit.BoundSignals.TryGetValue(SignalRole.GasFlow, out BoundPoint? bound) && proving >= bound.CoreRange(unit.Gas).Max)
        {
            faults.Add(unit.Flow.At("provingKgPerHour"), "the proving flow lies beyond the range of the meter", $"{proving} kg/h; {bound.Description} ends at {Math.Round(bound.CoreRange(unit.Gas).Max, 1)} kg/h", "a flow inside the range", "to compare the meter's unit and reference state with the map");
        }
    }
}
