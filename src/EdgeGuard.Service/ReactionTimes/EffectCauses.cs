using System.Globalization;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Service.ReactionTimes;

/// <summary>Condition and delay of each function with the figures of one unit.</summary>
internal static class EffectCauses
{
    private const string None = "none";

    /// <summary>A function whose section the site does not have.</summary>
    public static readonly (string Cause, string Delay) Absent = ("not configured for this unit", "–");

    public static (string Cause, string Delay) Of(UnitTable unit, FunctionId function) => function switch
    {
        FunctionId.Start => ("the guard starts", None),
        FunctionId.Hard => ("hardwired chain open", None),
        FunctionId.Flow => (T($"gas flow < {FlowLimit(unit.Flow)} while power is possible; not proved at {unit.Flow.ProvingKgPerHour} kg/h{Vote(unit, SignalRole.GasFlow)}"), Time(unit.Flow.DelayMs)),
        FunctionId.Elem => (T($"element ≥ {unit.Elem.TripC} °C (alarm {unit.Elem.AlarmC} °C){Vote(unit, SignalRole.ElementTemperature)}"), Time(unit.Elem.DelayMs)),
        FunctionId.Outl => (T($"outlet gas ≥ {unit.Outl.TripC} °C (alarm {unit.Outl.AlarmC} °C){Vote(unit, SignalRole.OutletTemperature)}"), Time(unit.Outl.DelayMs)),
        FunctionId.Nors => (T($"power > {unit.Nors.PowerPercent} % and element slope < {unit.Nors.SlopeKPerMin} K/min while led up, or < {unit.Nors.FallingKPerMin} K/min"), Time(unit.Nors.DelayMs)),
        FunctionId.Resd => (T($"power ≥ {unit.Resd.LimitPercent} % of rated after removal"), Time(unit.Resd.BlankingMs + unit.Resd.ProofMs)),
        FunctionId.Comm => ("no valid answer of a device, or token not confirmed", Time(unit.CommLimitMs)),
        FunctionId.Sens => ("element, outlet, flow or power not good", Time(unit.SensDelayMs)),
        FunctionId.Cmdv => ("key on LOCAL, read-back differs, watchdog of the cabinet dropped, second writer", "as stated in the reference"),
        FunctionId.Cool => (T($"cool-down faster than {unit.Cool.RampDownKPerMin} + {unit.Cool.ToleranceKPerMin} K/min"), T($"{Time(unit.Cool.WindowMs)} window")),
        FunctionId.Heat => (T($"heat-up faster than {unit.Cool.HeatAlarmKPerMin} K/min"), T($"{Time(unit.Nors.DelayMs)} window")),
        FunctionId.Aftc => ("heat stored and the blower below its after-cooling demand", None),
        FunctionId.Dmnd => ("sum of the power demands at the site limit", None),
        FunctionId.Jrnl => ("journal not healthy", "as stated in the reference"),
        FunctionId.Stop => ("a person asks for a stop", None),
        FunctionId.Self => ("an invariant of the unit's own step is broken", None),
        FunctionId.Phas => unit.Phas is { } phas
            ? (T($"line dead, open leg or unbalance ≥ {phas.HardPercent} %; mild from {phas.MildPercent} % (controlled); at output ≥ {phas.DemandPercent} %"), T($"{Time(phas.HardDelayMs)} after blocks of {Time(phas.BlockMs)}; mild {Time(phas.MildDelayMs)}"))
            : Absent,
        FunctionId.Leak => unit.Leak is { } leak ? (LeakCause(leak), Time(leak.DelayMs)) : Absent,
        FunctionId.Bala => unit.Bala is { } bala
            ? ("energy balance beyond its own uncertainty, loss learnt, quasi-steady", T($"{bala.Blocks} blocks"))
            : Absent,
        _ => ("see docs/reference/protective-functions.md", "see there"),
    };

    private static string LeakCause(LeakTable leak)
    {
        string leakage = double.IsFinite(leak.LeakageLimitMilliampere) ? T($"earth leakage ≥ {leak.LeakageLimitMilliampere} mA") : string.Empty;
        string insulation = leak.InsulationLimitKiloohm > 0 ? T($"insulation ≤ {leak.InsulationLimitKiloohm} kΩ") : string.Empty;
        return string.Join(" or ", new[] { leakage, insulation }.Where(t => t.Length > 0));
    }

    /// <summary>The fixed limit and what may raise it.</summary>
    private static string FlowLimit(FlowTable flow)
    {
        string curve = flow.Curve.Count > 0 ? ", curve over temperature" : string.Empty;
        string power = flow.PowerTerm ? ", P/Δh" : string.Empty;
        string fixedLimit = T($"{flow.LimitKgPerHour} kg/h");
        return curve.Length + power.Length > 0 ? $"the highest of {fixedLimit}{curve}{power}" : fixedLimit;
    }

    private static string Vote(UnitTable unit, SignalRole role) => unit.Voting.FirstOrDefault(v => v.Role == role)?.Scheme switch
    {
        null => string.Empty,
        VotingScheme.OneOutOfTwo => ", 1oo2",
        VotingScheme.TwoOutOfTwo => ", 2oo2",
        VotingScheme.TwoOutOfThree => ", 2oo3",
        _ => ", 1oo1",
    };

    private static string Time(int ms) => BudgetTerm.Seconds(ms);

    private static string T(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
