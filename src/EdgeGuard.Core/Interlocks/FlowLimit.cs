using EdgeGuard.Core.Signals;
using EdgeGuard.Core.Thermal;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// The flow that power needs: the highest of a fixed limit, a curve over the higher of setpoint and element
/// temperature, and P/Δh, the flow that carries the power away below the ceiling. The ceiling is the trip temperature
/// of the element, never the setpoint: at the setpoint P/Δh equals the flow in every steady state and would trip always.
/// P is the larger of measured and demanded power less what the wire and lining take up; that term is held down to the
/// ramp rate, since in a dry fire all power goes into the wire and the term would excuse itself.
/// Whatever is not known takes the side of more flow.
/// </summary>
internal sealed class FlowLimit(UnitTable table, bool canLimitOutput)
{
    /// <summary>The supported power is stated in steps of this, per cent of rated: noise of the meter is no reason to write.</summary>
    private const double SetbackStepPercent = 5;

    private readonly FlowCurvePoint[] _curve = UnitMemory.Copy(table.Flow.Curve);
    private readonly double _ceilingJoulePerKg = GasEnthalpy.JoulePerKg(table.Gas, table.Elem.TripC);

    /// <summary>A shortage against P/Δh lowers the output limit first.</summary>
    public bool SetsBack { get; } = table.Flow.PowerTerm && table.Flow.SetbackMs > 0 && canLimitOutput;

    /// <summary>Fixed limit and curve, kg/h.</summary>
    public double TemperatureTerm(UnitMemory unit)
    {
        double fixedLimit = table.Flow.LimitKgPerHour;
        return _curve.Length == 0 ? fixedLimit : Math.Max(fixedLimit, Curve(unit));
    }

    /// <summary>P/Δh, kg/h; 0 where not configured, infinite where the inlet is as hot as the ceiling.</summary>
    public double PowerTerm(UnitMemory unit)
    {
        if (!table.Flow.PowerTerm)
        {
            return 0;
        }

        double delta = DeltaJoulePerKg(unit);
        double power = Math.Max(0, PowerKw(unit) - StoredKw(unit));
        return delta > 0 ? power * 3_600_000 / delta : double.PositiveInfinity;
    }

    /// <summary>Output that the present flow supports, per cent of rated in whole steps; 100 where nothing is set back.</summary>
    public double SupportedPercent(UnitMemory unit)
    {
        double flow = unit.ValueOrNaN(SignalRole.GasFlow);
        double supportedKw = (flow * DeltaJoulePerKg(unit) / 3_600_000) + StoredKw(unit);
        double percent = supportedKw / table.RatedPowerKw * 100;
        return percent > 0 ? Math.Min(100, Math.Floor(percent / SetbackStepPercent) * SetbackStepPercent) : 0;
    }

    private double Curve(UnitMemory unit)
    {
        double element = unit.ValueOrNaN(SignalRole.ElementTemperature);
        double setpoint = unit.Permit || unit.PendingDurable ? unit.LedSetpointC : double.NegativeInfinity;
        double at = Math.Max(element, setpoint); // not a number when the element is not known
        FlowCurvePoint last = _curve[^1];
        if (!(at < last.TemperatureC))
        {
            return last.FlowKgPerHour;
        }

        int i = 0;
        while (at >= _curve[i].TemperatureC)
        {
            i++;
        }

        if (i == 0)
        {
            return _curve[0].FlowKgPerHour;
        }

        FlowCurvePoint low = _curve[i - 1];
        FlowCurvePoint high = _curve[i];
        double share = (at - low.TemperatureC) / (high.TemperatureC - low.TemperatureC);
        return low.FlowKgPerHour + (share * (high.FlowKgPerHour - low.FlowKgPerHour));
    }

    private double DeltaJoulePerKg(UnitMemory unit)
    {
        double inlet = unit.ValueOrNaN(SignalRole.InletTemperature);
        return _ceilingJoulePerKg - GasEnthalpy.JoulePerKg(table.Gas, double.IsNaN(inlet) ? table.Flow.InletHighestC : inlet);
    }

    private double PowerKw(UnitMemory unit)
    {
        double measured = unit.ValueOrNaN(SignalRole.Power);
        double output = unit.Fitted[(int)SignalRole.Output] ? unit.ValueOrNaN(SignalRole.Output) : 0;
        double demanded = output / 100 * table.RatedPowerKw;
        double larger = Math.Max(measured, demanded); // not a number when one is not known
        return double.IsNaN(larger) ? table.RatedPowerKw : larger;
    }

    private double StoredKw(UnitMemory unit)
    {
        double slope = Math.Min(unit.ElementSlopeKPerMin, table.Cool.RampUpKPerMin);
        return slope > 0 ? table.Flow.StoredHeatKjPerK * slope / 60 : 0;
    }
}
