using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// NORS: power flows and the element sensor does not answer as an element must: a shorted, reversed or displaced
/// thermocouple. Power above x without interruption for t is the ground of both rules.
/// <para>
/// No rise: while the setpoint is led up, the element rises slower than y, stands more than
/// <see cref="BehindK"/> below the led setpoint and is no warmer than the outlet gas. The last two keep a saturated
/// controller out: there the element stops rising as well, but it is warmer than the gas it heats.
/// </para>
/// <para>
/// Falling: in any state the element falls faster than z although the power is not lower than at the beginning of the
/// window, the flow is not higher and the setpoint is not led down. In a steady state a slope of zero under power is
/// normal, so there only this rule applies.
/// </para>
/// </summary>
internal sealed class NoResponseFunction : ProtectiveFunction
{
    /// <summary>Distance below the led setpoint at which the element must be rising, K. Engineering choice: well above sensor lag at 90 K/min.</summary>
    public const double BehindK = 30;

    /// <summary>Power and flow count as unchanged within this part (of rated power, of the flow before).</summary>
    private const double UnchangedPart = 0.05;

    /// <summary>The working setpoint counts as not led down within this, K.</summary>
    private const double SetpointK = 2;

    private readonly ValueWindow _power;
    private readonly ValueWindow _flow;
    private readonly ValueWindow _setpoint;
    private ScanDelay _powered;

    public NoResponseFunction(UnitTable table, int scanMs)
        : base(FunctionId.Nors)
    {
        int scans = ScanDelay.Scans(table.Nors.DelayMs, scanMs);
        _power = new ValueWindow(scans);
        _flow = new ValueWindow(scans);
        _setpoint = new ValueWindow(scans);
    }

    public override void Evaluate(UnitMemory unit, ref FunctionStatus status)
    {
        NoResponseTable table = unit.Table.Nors;
        double power = unit.ValueOrNaN(SignalRole.Power);
        bool powered = power >= unit.Table.RatedPowerKw * table.PowerPercent / 100;
        bool longPowered = _powered.Passed(powered, unit.Scan, unit.Scans(table.DelayMs));
        bool falling = Falling(unit, power);
        bool rising = unit.State == UnitState.Heating && !unit.RampHeld;
        bool known = !double.IsNaN(unit.ElementSlopeKPerMin);

        bool noRise = known && rising && unit.ElementSlopeKPerMin < table.SlopeKPerMin && Behind(unit);
        bool demands = longPowered && (noRise || falling);
        status.Value = unit.ElementSlopeKPerMin;
        status.Limit = falling ? table.FallingKPerMin : table.SlopeKPerMin;
        status.SinceScan = demands ? _powered.Since : -1;
        status.State = demands ? FunctionState.Demand
            : !powered ? FunctionState.Idle
            : FunctionState.Healthy;
    }

    private static bool Behind(UnitMemory unit)
    {
        double element = unit.ValueOrNaN(SignalRole.ElementTemperature);
        double outlet = unit.ValueOrNaN(SignalRole.OutletTemperature);
        return element < unit.LedSetpointC - BehindK && !(element > outlet);
    }

    private bool Falling(UnitMemory unit, double power)
    {
        double flow = unit.ValueOrNaN(SignalRole.GasFlow);
        double setpoint = unit.Fitted[(int)SignalRole.WorkingSetpoint] ? unit.ValueOrNaN(SignalRole.WorkingSetpoint) : 0;
        double powerBefore = _power.Exchange(power);
        double flowBefore = _flow.Exchange(flow);
        double setpointBefore = _setpoint.Exchange(setpoint);
        return unit.ElementSlopeKPerMin <= unit.Table.Nors.FallingKPerMin
            && power >= powerBefore - (unit.Table.RatedPowerKw * UnchangedPart)
            && flow <= flowBefore * (1 + UnchangedPart)
            && setpoint >= setpointBefore - SetpointK
            && unit.State != UnitState.LedCooldown;
    }
}
