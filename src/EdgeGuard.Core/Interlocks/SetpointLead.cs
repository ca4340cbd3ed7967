using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>Leads the setpoint of one unit: up to the target at the ramp rate, down at the cap. Rates are exact per nominal scan.</summary>
internal static class SetpointLead
{
    /// <summary>"One ramp step" of the start condition: what the ramp gains in this time, s; above sensor noise and the way of a read-back.</summary>
    private const double StepSeconds = 5;

    /// <summary>
    /// A led cool-down reaches its rate over this time, ms: a controller that meets a sudden ramp overshoots its slope,
    /// and the cap is a cap for the gas, not for the setpoint.
    /// </summary>
    private const int SoftStartMs = 30_000;

    /// <summary>A led cool-down out of a ramp waits this long at most for the heater to turn, ms; a controller that never settles is led all the same.</summary>
    private const int TurnMs = 120_000;

    /// <summary>
    /// How much the setpoint is slowed for each K/min that the judged signal falls too fast; of a lasting excess two fifths are
    /// left. A slope over a window is half of the window late: with more gain the heater would be slowed and let go in turn
    /// (phase margin some 55° with 60 s of window and 10 s of lag in the heater, by calculation).
    /// </summary>
    private const double ExcessGain = 1.5;

    /// <summary>The outlet is at rest at the setpoint within this, K: about the noise of its reading.</summary>
    private const double RestK = 0.5;

    /// <summary>The element is at rest below this, K/min: above the noise of a slope over 20 s (0.5 K a second gives 1.2).</summary>
    private const double RestKPerMin = 5;

    /// <summary>One ramp step, K.</summary>
    public static double StepK(UnitMemory unit) => unit.Table.Cool.RampUpKPerMin / 60 * StepSeconds;

    /// <summary>Setpoint written while flow is proved: one step below the process value, so that the controller rests at 0 %; NaN when unknown.</summary>
    public static double StartC(UnitMemory unit) => unit.RealOrNaN(SignalRole.OutletTemperature) - StepK(unit);

    /// <summary>Moves towards the target; true when it is reached.</summary>
    public static bool Heat(UnitMemory unit)
    {
        double target = unit.Table.SetpointC;
        if (!unit.RampHeld)
        {
            double up = Math.Min(target, unit.LedSetpointC + PerScan(unit, unit.Table.Cool.RampUpKPerMin));
            double down = Math.Max(target, unit.LedSetpointC - PerScan(unit, unit.Table.Cool.RampDownKPerMin));
            unit.LedSetpointC = unit.LedSetpointC < target ? up : down;
        }

        return unit.LedSetpointC == target;
    }

    /// <summary>Begins a led cool-down at the lower of led setpoint and outlet, so that the controller does not heat first.</summary>
    public static void BeginCool(UnitMemory unit)
    {
        double outlet = unit.RealOrNaN(SignalRole.OutletTemperature);
        unit.LedSetpointC = outlet < unit.LedSetpointC ? outlet : unit.LedSetpointC;
        unit.CoolStartScan = unit.Scan;
        unit.CoolTurned = false;
    }

    /// <summary>
    /// Moves down at the cap once the heater has turned; true when the end is reached. The end is the setpoint of a trip:
    /// power that is still asked for at the after-cooling limit is led down too, since its removal would be a faster fall.
    /// </summary>
    public static bool Cool(UnitMemory unit)
    {
        if (!unit.CoolTurned && !HasTurned(unit))
        {
            return false;
        }

        double share = Math.Min(1, (double)(unit.Scan - unit.CoolStartScan) * unit.Site.ScanMs / SoftStartMs);
        double led = unit.LedSetpointC - (share * PerScan(unit, CoolRate(unit)));
        unit.LedSetpointC = Math.Max(led, unit.Table.TripSetpointC);
        return led <= unit.Table.TripSetpointC;
    }

    /// <summary>
    /// The cap, less what the judged signal falls faster than it: a controller that leads its element ahead of the gas, or
    /// catches up, makes the gas fall faster than its setpoint.
    /// </summary>
    private static double CoolRate(UnitMemory unit)
    {
        double cap = unit.Table.Cool.RampDownKPerMin;
        double excess = -unit.CoolSlopeKPerMin - cap; // not a number before the window is full
        return excess > 0 ? Math.Max(0, cap - (ExcessGain * excess)) : cap;
    }

    /// <summary>
    /// Out of a ramp the wire goes on rising and the outlet overshoots the setpoint that was turned, and swings around it. Led
    /// down from there it would have the overshoot to make up for, on top of the cap. So the setpoint waits until the outlet
    /// has come to rest at it.
    /// </summary>
    private static bool HasTurned(UnitMemory unit)
    {
        bool moves = Math.Abs(unit.ElementSlopeKPerMin) > RestKPerMin;
        bool isOff = Math.Abs(unit.ValueOrNaN(SignalRole.OutletTemperature) - unit.LedSetpointC) > RestK;
        if ((moves || isOff) && unit.Scan - unit.CoolStartScan < unit.Scans(TurnMs))
        {
            return false;
        }

        unit.CoolTurned = true;
        unit.CoolStartScan = unit.Scan;
        return true;
    }

    private static double PerScan(UnitMemory unit, double kPerMin) => kPerMin * unit.Site.ScanMs / 60_000;
}
