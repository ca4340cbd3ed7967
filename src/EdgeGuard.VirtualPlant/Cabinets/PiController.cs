namespace EdgeGuard.VirtualPlant.Cabinets;

/// <summary>
/// PI controller with conditional integration as anti-windup: the integral moves only when that does not push the
/// output further into saturation.
/// </summary>
public sealed class PiController(double gainPercentPerK, double integralS)
{
    private double _integralPercent;

    /// <summary>Output 0 to 100 %.</summary>
    public double OutputPercent { get; private set; }

    /// <summary>Advances the controller by one step.</summary>
    /// <param name="setpointC">Setpoint, °C.</param>
    /// <param name="actualC">Process value, °C.</param>
    /// <param name="limitPercent">Output limit, 0 to 100 %.</param>
    /// <param name="seconds">Length of the step, s.</param>
    public void Step(double setpointC, double actualC, double limitPercent, double seconds)
    {
        double error = setpointC - actualC;
        double wanted = (gainPercentPerK * error) + _integralPercent;
        bool pushesUp = wanted >= limitPercent && error > 0.0;
        bool pushesDown = wanted <= 0.0 && error < 0.0;
        if (!pushesUp && !pushesDown)
        {
            _integralPercent += gainPercentPerK / integralS * error * seconds;
        }

        OutputPercent = Math.Clamp(wanted, 0.0, limitPercent);
    }

    /// <summary>Puts output and integral to a value: zero when firing is blocked, the manual output in manual.</summary>
    public void Track(double percent)
    {
        OutputPercent = percent;
        _integralPercent = percent;
    }
}
