using EdgeGuard.VirtualPlant.Profiles;

namespace EdgeGuard.VirtualPlant.Cabinets;

/// <summary>
/// An inner PI loop holds the element, an outer one gives it the setpoint that brings the outlet to its own. The outer
/// loop starts from the element temperature that the outlet setpoint is expected to need and adds a trim, so that a ramp
/// reaches the element at once and only the trim has to be learnt. The trim compares the outlet with the setpoint of some
/// seconds ago, since the outlet sensor shows the gas of some seconds ago; else a ramp would look like an error. The element's setpoint is capped, and the trim stands
/// still while the cap or the inner loop's saturation keeps it from acting: no wind-up through either loop.
/// </summary>
/// <param name="tuning">Gains and cap.</param>
/// <param name="inletC">Inlet of the gas, °C.</param>
public sealed class CascadeLoop(CascadeTuning tuning, double inletC) : IControlLoop
{
    private readonly PiController _inner = new(tuning.InnerGainPercentPerK, tuning.InnerIntegralS);

    private readonly double _inletC = inletC;

    private double _trimK;

    private double _referenceC = inletC;

    /// <inheritdoc/>
    public double OutputPercent => _inner.OutputPercent;

    /// <summary>Setpoint given to the inner loop, °C.</summary>
    public double ElementSetpointC { get; private set; }

    /// <inheritdoc/>
    public void Step(in LoopValues values, double limitPercent, double seconds)
    {
        _referenceC += (values.SetpointC - _referenceC) * seconds / tuning.ReferenceLagS;
        double error = _referenceC - values.OutletC;
        double wanted = Expected(values.SetpointC) + (tuning.OuterGain * error) + _trimK;
        bool cannotRise = wanted >= tuning.ElementMaxC || OutputPercent >= limitPercent;
        bool cannotFall = OutputPercent <= 0.0;
        if (!(cannotRise && error > 0.0) && !(cannotFall && error < 0.0))
        {
            _trimK += tuning.OuterGain / tuning.OuterIntegralS * error * seconds;
        }

        ElementSetpointC = Math.Min(wanted, tuning.ElementMaxC);
        _inner.Step(ElementSetpointC, values.ElementC, limitPercent, seconds);
    }

    /// <inheritdoc/>
    public void Track(in LoopValues values, double percent)
    {
        // Bumpless: the outer loop takes up where the element is.
        _inner.Track(percent);
        ElementSetpointC = Math.Min(values.ElementC, tuning.ElementMaxC);
        _referenceC = values.SetpointC;
        bool readable = values.OutletC < Thermocouple.BrokenC && values.ElementC < Thermocouple.BrokenC;
        _trimK = !readable ? 0.0 : ElementSetpointC - Expected(values.SetpointC) - (tuning.OuterGain * (values.SetpointC - values.OutletC));
    }

    private double Expected(double setpointC) => _inletC + ((setpointC - _inletC) * tuning.ElementPerOutlet);
}
