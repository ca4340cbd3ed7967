namespace EdgeGuard.Core.Thermal;

/// <summary>
/// Flow that a power needs, so that the gas itself cannot pass a ceiling: P/Δh(inlet → ceiling). For FLOW: the power is
/// the larger of what is measured and what is demanded, less what goes into the wire while it warms. What is not known
/// counts on the side of more flow: no inlet reading is <see cref="WarmestInletC"/>, no power is the rated power.
/// </summary>
/// <remarks>
/// The ceiling is the trip limit of the element, never the setpoint: at the setpoint the gas of a steady heater is where
/// it should be, and a limit drawn there would trip always. Δh(20 °C → ceiling) would understate the need of warm gas, so
/// the inlet is measured or taken warm.
/// </remarks>
public sealed class FlowDemand
{
    /// <summary>Inlet temperature that is assumed without a reading, °C: gas returning warm from a loop.</summary>
    public const double WarmestInletC = 80;

    private const double SecondsPerHour = 3600;
    private readonly Gas _gas;
    private readonly double _ratedKw;
    private readonly double _ceilingJoulePerKg;

    /// <summary>A demand for one heater.</summary>
    /// <param name="gas">The gas; <see cref="Gas.None"/> asks for infinite flow.</param>
    /// <param name="ratedKw">Rated power, kW.</param>
    /// <param name="ceilingC">Trip limit of the element, °C.</param>
    public FlowDemand(Gas gas, double ratedKw, double ceilingC)
    {
        _gas = gas;
        _ratedKw = ratedKw;
        _ceilingJoulePerKg = GasEnthalpy.JoulePerKg(gas, ceilingC);
    }

    /// <summary>Needed flow, kg/h; 0 without power into the gas; positive infinity where no flow would do. Allocates nothing.</summary>
    /// <param name="measuredKw">Measured power, kW; NaN when not good.</param>
    /// <param name="demandedKw">Power that the controller demands, kW; NaN when not good.</param>
    /// <param name="storedKw">Power that goes into the wire, kW, 0 or above: C dT/dt; NaN counts as 0.</param>
    /// <param name="inletC">Inlet temperature, °C; NaN when not good.</param>
    public double KgPerHour(double measuredKw, double demandedKw, double storedKw, double inletC)
    {
        double measured = double.IsNaN(measuredKw) ? _ratedKw : measuredKw;
        double demanded = double.IsNaN(demandedKw) ? measured : demandedKw;
        double intoGasKw = Math.Max(measured, demanded) - (storedKw > 0 ? storedKw : 0);
        double inlet = double.IsNaN(inletC) ? WarmestInletC : inletC;
        double delta = _ceilingJoulePerKg - GasEnthalpy.JoulePerKg(_gas, inlet);
        if (!(delta > 0) || double.IsNaN(intoGasKw))
        {
            return double.PositiveInfinity;
        }

        return intoGasKw <= 0 ? 0 : 1000 * intoGasKw * SecondsPerHour / delta;
    }
}
