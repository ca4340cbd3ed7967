using System.Globalization;
using EdgeGuard.Records.Journal;
using EdgeGuard.Reports.Html;
using EdgeGuard.VirtualPlant.Ledger;

namespace EdgeGuard.Demo;

/// <summary>
/// Holds the plant's own ledger beside the limits. The ledger is kept by the plant process at every step of 5 ms or
/// less and the guard cannot write to it. Cooling forced by a trip is not judged by its rate: after a trip power stays
/// off whatever the rate, so it is judged by power off and blower as designed.
/// </summary>
internal static class DemoJudge
{
    private const double ScanMs = 100;
    private const double FlowDelayMs = 500;
    private const double WriteMs = 50;
    private const double ContactorMs = 50;

    // Meter damping (0.8 s) and the blower's coast-down lie between true flow and register.
    private const double UnderFlowLimitMs = 3000;

    // Tolerance of the cap; common practice, no source.
    private const double RateToleranceKPerMin = 1;

    // Contactor and one step of the ledger, for each removal.
    private const double WithoutPermitPerRemovalMs = 100;

    // A plant that made or lost energy could judge nobody; what is left is rounding.
    private const double EnergyLimitKj = 0.01;

    public static List<KeyFigure> Unit(UnitLedgerReport unit)
    {
        double reactionMs = unit.FlowReactions.Count == 0 ? 0 : unit.FlowReactions.Max(r => r.FlowCameBack ? 0 : r.ReactionMs < 0 ? double.PositiveInfinity : r.ReactionMs);
        double reactionLimit = ScanMs + FlowDelayMs + WriteMs + ContactorMs;
        int removals = 1 + unit.PowerTransitions.Count(t => !t.On && t.Permit != PermitState.Permitted);
        return
        [
            Most("highest element temperature", unit.ElementMaxC, unit.ElementTripC, "°C"),
            Most("longest time powered under minimum flow", unit.LongestUnderMinimumFlowMs, UnderFlowLimitMs, "ms"),
            Most("meter register under minimum flow to power off (not the protection time)", reactionMs, reactionLimit, "ms"),
            Most("cool-down led, 60 s mean", unit.CoolDownLedMaxKPerMin, unit.CoolDownCapKPerMin + RateToleranceKPerMin, "K/min"),
            new KeyFigure("cool-down forced by trip, 60 s mean", "recorded apart, not judged by rate", Text(unit.CoolDownForcedMaxKPerMin, "K/min"), Verdict.Information),
            Most("time powered without permit, all removals together", unit.PoweredWithoutPermitMs, WithoutPermitPerRemovalMs * removals, "ms"),
            Most("blower lowered before power was off", unit.BlowerLoweredUnderPower, 0, "times"),
            Most("energy the plant made or lost (the judge's own check)", Math.Abs(unit.EnergyResidualKj), EnergyLimitKj, "kJ"),
        ];
    }

    /// <summary>Time from each fault of the story to power off, by the ledger's own list of power changes.</summary>
    public static List<KeyFigure> Faults(LedgerReport ledger, IReadOnlyList<DemoFault> faults) =>
        [.. faults.Select(f => Most($"{f.Unit}: {f.What}, to power off", ReactionMs(ledger, f), f.LimitMs, "ms"))];

    private static double ReactionMs(LedgerReport ledger, DemoFault fault)
    {
        IReadOnlyList<PowerTransition> changes = ledger.Units.First(u => u.Unit == fault.Unit).PowerTransitions;
        PowerTransition? off = changes.FirstOrDefault(t => !t.On && t.AtMs >= fault.AtMs && t.Permit != PermitState.Permitted);
        return off is null ? double.PositiveInfinity : off.AtMs - fault.AtMs;
    }

    public static List<KeyFigure> Site(SiteLedgerReport site, JournalReport journal, bool cleanStop)
    {
        return
        [
            Most("highest power of the shared supply", site.SumMaxKw, site.SiteLimitKw, "kW"),
            new KeyFigure("journal recomputed line by line", "whole", journal.IsWhole ? $"{Counted.Of(journal.LineCount, "line")}, ends at {journal.LastNumber}" : journal.Findings[0].ToString(), journal.IsWhole && journal.LineCount > 0 ? Verdict.Kept : Verdict.Broken),
            new KeyFigure("guard stopped in order", "yes", cleanStop ? "yes" : "no", cleanStop ? Verdict.Kept : Verdict.Broken),
        ];
    }

    private static KeyFigure Most(string name, double actual, double limit, string unit) =>
        new(name, "at most " + Text(limit, unit), Text(actual, unit), actual <= limit ? Verdict.Kept : Verdict.Broken);

    private static string Text(double value, string unit) => double.IsInfinity(value) ? "never" : value.ToString("0.##", CultureInfo.InvariantCulture) + " " + unit;
}
