using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Core.Thermal;
using EdgeGuard.Service.Configuration.Drafts;
using EdgeGuard.Service.Configuration.Maps;

namespace EdgeGuard.Service.Configuration.Rules;

// Functions that a unit has only where it says so: each needs its signals, or it would never judge and yet stand in the
// site file as protection.

/// <summary>Minimum flow curve, model of SENS, PHAS, LEAK and BALA: what they need and how their limits must lie.</summary>
internal static class FittedFunctionRules
{
    public static void Check(SiteDraft site, FaultList faults)
    {
        foreach (UnitDraft unit in site.Units)
        {
            CheckCurve(unit, faults);
            CheckPhases(unit, faults);
            CheckModel(unit, faults);
            CheckNoise(site, unit, faults);
            if (unit.BindingComplete)
            {
                CheckSignals(unit, faults);
            }
        }
    }

    private static void CheckCurve(UnitDraft unit, FaultList faults)
    {
        IReadOnlyList<FlowCurvePoint> curve = unit.FlowCurve;
        for (int i = 1; i < curve.Count; i++)
        {
            bool rises = curve[i].TemperatureC > curve[i - 1].TemperatureC && curve[i].FlowKgPerHour >= curve[i - 1].FlowKgPerHour;
            if (!rises && !double.IsNaN(curve[i].TemperatureC + curve[i].FlowKgPerHour + curve[i - 1].TemperatureC + curve[i - 1].FlowKgPerHour))
            {
                faults.Add(unit.Flow.At("curve"), "the minimum flow curve does not rise", $"{curve[i - 1].FlowKgPerHour} kg/h at {curve[i - 1].TemperatureC} °C, then {curve[i].FlowKgPerHour} kg/h at {curve[i].TemperatureC} °C", "temperatures that rise and flows that do not fall", "to put the points in order; hotter metal never needs less gas");
            }
        }

        if (curve.Count > 0 && curve[^1].TemperatureC < unit.SetpointC)
        {
            faults.Add(unit.Flow.At("curve"), "the minimum flow curve ends below the setpoint", $"last point at {curve[^1].TemperatureC} °C, setpoint {unit.SetpointC} °C", $"a point at {unit.SetpointC} °C or above", "a further point");
        }

        if (curve.Count > 0 && curve[^1].FlowKgPerHour > unit.Flow.Number("provingKgPerHour"))
        {
            faults.Add(unit.Flow.At("curve"), "the minimum flow curve asks for more than is proved", $"{curve[^1].FlowKgPerHour} kg/h, proving {unit.Flow.Number("provingKgPerHour")} kg/h", "a curve below the proving flow", "a higher proving flow; a unit that is heated up would trip on its own curve");
        }
    }

    private static void CheckModel(UnitDraft unit, FaultList faults)
    {
        IReadOnlyList<ModelPoint> points = unit.ModelPoints;
        if (points.Count == 1)
        {
            faults.Add(unit.Model.At("points"), "the model of element and outlet has one point", $"a point at {points[0].FlowKgPerHour} kg/h alone", "two flows at least: how far the element is above the gas depends on the flow", "to note a steady state at the lowest and one at the highest flow");
        }

        for (int i = 1; i < points.Count; i++)
        {
            if (points[i].FlowKgPerHour <= points[i - 1].FlowKgPerHour)
            {
                faults.Add(unit.Model.At("points"), "the flows of the model of element and outlet do not rise", $"{points[i - 1].FlowKgPerHour} kg/h, then {points[i].FlowKgPerHour} kg/h", "flows that rise from point to point", "to put the points in order");
            }
        }

        if (points.FirstOrDefault(p => p.PowerKw > unit.RatedPowerKw) is { PowerKw: > 0 } most)
        {
            faults.Add(unit.Model.At("points"), "a point of the model of element and outlet has more than the rated power", $"{most.PowerKw} kW, rated {unit.RatedPowerKw} kW", $"at most {unit.RatedPowerKw} kW", "the power as it was measured");
        }
    }

    /// <summary>A window of fewer readings is never judged.</summary>
    private static void CheckNoise(SiteDraft site, UnitDraft unit, FaultList faults)
    {
        const int LeastReadings = 60;
        double windowMs = unit.Sens.Number("noiseMs");
        foreach (SignalRole role in (SignalRole[])[SignalRole.ElementTemperature, SignalRole.OutletTemperature, SignalRole.GasFlow])
        {
            double everyMs = site.ScanMs * (unit.BoundSignals.TryGetValue(role, out BoundPoint? bound) ? bound.Point.EveryScans : 1);
            if (windowMs > 0 && windowMs < LeastReadings * everyMs)
            {
                faults.Add(unit.Sens.At("noiseMs"), $"the window holds fewer than {LeastReadings} readings of {RoleFacts.Of(role).Name}", $"{windowMs} ms, a reading each {everyMs} ms", $"at least {LeastReadings * everyMs} ms", $"{LeastReadings * everyMs} or more");
                return;
            }
        }
    }

    private static void CheckPhases(UnitDraft unit, FaultList faults)
    {
        if (!unit.Phas.Stated)
        {
            return;
        }

        double cycle = unit.Resd.Number("firingCycleMs");
        if (unit.PhaseBlockMs % cycle > 0)
        {
            faults.Add(unit.Phas.At("blockMs"), "the block of PHAS is no whole number of firing cycles", $"{unit.PhaseBlockMs} ms, firing cycle {cycle} ms", $"a multiple of {cycle} ms", "to leave \"blockMs\" out");
        }

        if (unit.Phas.Number("mildPercent") >= unit.Phas.Number("hardPercent"))
        {
            faults.Add(unit.Phas.At("mildPercent"), "the milder limit of PHAS does not lie below the hard one", $"mild {unit.Phas.Number("mildPercent")} %, hard {unit.Phas.Number("hardPercent")} %", "mild below hard", "to state both");
        }
    }

    private static void CheckSignals(UnitDraft unit, FaultList faults)
    {
        if (unit.Phas.Stated)
        {
            Need(unit, unit.Phas, SignalRole.CurrentL1, "PHAS", faults);
            Need(unit, unit.Phas, SignalRole.CurrentL2, "PHAS", faults);
            Need(unit, unit.Phas, SignalRole.CurrentL3, "PHAS", faults);
        }

        if (unit.Leak.Has("leakageAlarmMilliampere") || unit.Leak.Has("leakageLimitMilliampere"))
        {
            Need(unit, unit.Leak, SignalRole.EarthLeakage, "LEAK", faults);
        }

        if (unit.Leak.Has("insulationAlarmKiloohm") || unit.Leak.Has("insulationLimitKiloohm"))
        {
            Need(unit, unit.Leak, SignalRole.Insulation, "LEAK", faults);
        }

        if (unit.Bala.Stated)
        {
            Need(unit, unit.Bala, SignalRole.InletTemperature, "BALA", faults);
        }
    }

    private static void Need(UnitDraft unit, Section section, SignalRole role, string function, FaultList faults)
    {
        if (!unit.BoundSignals.ContainsKey(role))
        {
            string name = RoleFacts.Of(role).Name;
            faults.Add(section.Place, $"{function} is configured and the signal \"{name}\" is missing", $"no point with role \"{name}\"", $"\"{name}\" for {function}", $"to bind \"{name}\", or to leave the section out");
        }
    }
}
