namespace EdgeGuard.Core.Thermal;

/// <summary>
/// How long a ramp or a cool-down still takes. A figure for people; nothing waits for it. What cannot be reached takes
/// for ever, and an input that is no number gives the same.
/// </summary>
public static class TimeLeft
{
    private const double SecondsPerMinute = 60;

    /// <summary>Time of a led ramp, s: distance ÷ rate.</summary>
    /// <param name="fromC">Setpoint as led now, °C.</param>
    /// <param name="toC">Target, °C.</param>
    /// <param name="kPerMin">Rate towards the target, K/min, above 0.</param>
    public static double RampSeconds(double fromC, double toC, double kPerMin)
    {
        double seconds = SecondsPerMinute * Math.Abs(toC - fromC) / kPerMin;
        return kPerMin > 0 && seconds >= 0 ? seconds : double.PositiveInfinity;
    }

    /// <summary>
    /// Time of a powered cool-down and of the free fall after it, s. While the free fall would be faster than the cap,
    /// power holds the temperature to the cap; from where it would be slower, power is zero and the temperature falls as
    /// (T − floor)/τ (first order, 63.2 % in τ).
    /// </summary>
    /// <param name="fromC">Temperature now, °C.</param>
    /// <param name="toC">End of the cool-down, °C.</param>
    /// <param name="capKPerMin">Cap on the rate, K/min, above 0.</param>
    /// <param name="floorC">Temperature that the free fall approaches, °C: that of the gas at the inlet.</param>
    /// <param name="timeConstantSeconds">τ of the free fall at this flow, s, above 0.</param>
    public static double CoolDownSeconds(double fromC, double toC, double capKPerMin, double floorC, double timeConstantSeconds)
    {
        if (fromC <= toC)
        {
            return 0;
        }

        if (!(capKPerMin > 0) || !(timeConstantSeconds > 0) || !(toC > floorC) || !double.IsFinite(fromC))
        {
            return double.PositiveInfinity;
        }

        double unpoweredC = UnpoweredC(capKPerMin, floorC, timeConstantSeconds);
        double powered = RampSeconds(fromC, Math.Max(toC, Math.Min(unpoweredC, fromC)), capKPerMin);
        double startC = Math.Min(fromC, unpoweredC);
        double free = startC > toC ? timeConstantSeconds * NaturalLogarithm.Of((startC - floorC) / (toC - floorC)) : 0;
        return powered + free;
    }

    /// <summary>Temperature at which a powered cool-down at the cap needs no power any more, °C: floor + cap × τ.</summary>
    /// <param name="capKPerMin">Cap on the rate, K/min.</param>
    /// <param name="floorC">Temperature that the free fall approaches, °C.</param>
    /// <param name="timeConstantSeconds">τ of the free fall, s.</param>
    public static double UnpoweredC(double capKPerMin, double floorC, double timeConstantSeconds) =>
        floorC + (capKPerMin / SecondsPerMinute * timeConstantSeconds);

    /// <summary>τ of a free fall seen at one moment, s: distance to the floor ÷ rate; infinite unless it falls towards it.</summary>
    /// <param name="temperatureC">Temperature, °C.</param>
    /// <param name="floorC">Temperature that the fall approaches, °C.</param>
    /// <param name="fallingKPerMin">Slope, K/min, below 0.</param>
    public static double TimeConstantSeconds(double temperatureC, double floorC, double fallingKPerMin)
    {
        double seconds = SecondsPerMinute * (temperatureC - floorC) / -fallingKPerMin;
        return fallingKPerMin < 0 && seconds > 0 ? seconds : double.PositiveInfinity;
    }
}
