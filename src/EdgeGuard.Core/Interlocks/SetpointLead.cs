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
    }

    /// <summary>Moves down at the cap; true when the end is reached.</summary>
    public static bool Cool(UnitMemory unit)
    {
        double share = Math.Min(1, (double)(unit.Scan - unit.CoolStartScan) * unit.Site.ScanMs / SoftStartMs);
        unit.LedSetpointC -= share * PerScan(unit, unit.Table.Cool.RampDownKPerMin);
        return unit.LedSetpointC <= unit.Table.Cool.AfterCoolingBelowC;
    }

    private static double PerScan(UnitMemory unit, double kPerMin) => kPerMin * unit.Site.ScanMs / 60_000;
}
