using System.Globalization;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Thermal;

namespace EdgeGuard.Service.ReactionTimes;

/// <summary>
/// Process safety time and reaction time of each function that covers a scenario. The side of no power is the shorter time
/// there is and the longer time it takes: power at the highest supply voltage, nothing taken away by gas, the meter
/// falling from the end of its range, a value just missed by the poll, answers lost, and the write lost too, so that the
/// cabinet's watchdog removes power. Runs when a site is loaded, never in a scan.
/// </summary>
internal static class ReactionCalculator
{
    /// <summary>Share of the power that one shorted leg of a controller with two controlled legs leaves: 1/2 (circuit theory).</summary>
    private const double ShortedLegShare = 0.5;

    /// <summary>All budgets of a unit; none when figures are missing.</summary>
    public static IReadOnlyList<ReactionBudget> Of(ReactionInput input)
    {
        double rise = RiseKPerSecond(input.Options, input.RatedPowerKw);
        if (!input.IsComplete || !double.IsFinite(rise))
        {
            return [];
        }

        var budgets = new List<ReactionBudget>
        {
            Budget(input, ProtectionScenario.DryFire, FunctionId.Flow, input.ElemTripC, rise, FlowTerms(input)),
            Budget(input, ProtectionScenario.DryFire, FunctionId.Elem, input.ElemTripC, rise, ElementTerms(input)) with { Covers = input.Options.SensorOnWire },
            Budget(input, ProtectionScenario.Runaway, FunctionId.Elem, input.ElemTripC, rise, ElementTerms(input)),
        };
        if (!double.IsNaN(input.Options.ElementOverGasK))
        {
            double elementC = input.OutlTripC + (input.Options.ElementOverGasK * PowerShare(input.Options));
            budgets.Add(Budget(input, ProtectionScenario.Runaway, FunctionId.Outl, elementC, rise, OutletTerms(input)));
        }

        budgets.Add(Budget(input, ProtectionScenario.ResidualPower, FunctionId.Resd, input.ElemTripC, rise * ShortedLegShare, ResidualTerms(input)) with { WatchdogMs = double.NaN });
        return budgets;
    }

    /// <summary>
    /// Rise of the wire at the highest supply voltage, K/s: the faster of P/(m c) and 4 q/(ρ c d); infinite without data.
    /// </summary>
    public static double RiseKPerSecond(ReactionOptions options, double ratedKw)
    {
        double share = PowerShare(options);
        double fromMass = DryFire.RiseKPerSecond(ratedKw * share, options.MassKg, options.HeatCapacityKJPerKgK);
        double fromLoad = DryFire.RiseKPerSecondFromSurfaceLoad(options.SurfaceLoadWPerCm2 * share, options.DensityKgPerM3, options.HeatCapacityKJPerKgK, options.WireMm);
        bool hasMass = !double.IsNaN(options.MassKg);
        bool hasLoad = !double.IsNaN(options.WireMm) && !double.IsNaN(options.SurfaceLoadWPerCm2);
        return (hasMass, hasLoad) switch
        {
            (true, true) => Math.Max(fromMass, fromLoad),
            (true, false) => fromMass,
            (false, true) => fromLoad,
            _ => double.PositiveInfinity,
        };
    }

    /// <summary>Power goes with the square of the voltage: U + 10 % is × 1.21.</summary>
    private static double PowerShare(ReactionOptions options) => options.SupplyPercent / 100 * (options.SupplyPercent / 100);

    private static ReactionBudget Budget(
        ReactionInput input, ProtectionScenario scenario, FunctionId function, double fromC, double rise, IReadOnlyList<BudgetTerm> terms) => new()
    {
        Scenario = scenario,
        Function = function,
        AvailableMs = 1000 * DryFire.SecondsBetween(fromC, input.DestructionC, rise),
        AvailableWords = string.Create(CultureInfo.InvariantCulture, $"{fromC:0} to {input.DestructionC:0} °C at {rise:0.0} K/s, supply {input.Options.SupplyPercent:0} %"),
        Terms = terms,
        WatchdogMs = input.WatchdogMs,
        Covers = true,
    };

    private static IReadOnlyList<BudgetTerm> FlowTerms(ReactionInput input)
    {
        // First order: from the end of the range to the limit takes τ ln(range/limit).
        double damping = input.Options.MeterDampingMs * Math.Max(0, Math.Log(input.FlowRangeKgPerHour / input.FlowLimitKgPerHour));
        return [new(BudgetTermKind.MeterDamping, damping), .. Reading(input, 0), Delay(input, input.FlowDelayMs), .. Removal(input)];
    }

    private static IReadOnlyList<BudgetTerm> ElementTerms(ReactionInput input) =>
        [new(BudgetTermKind.SensorLag, input.Options.ElementLagMs), .. Reading(input, input.SensDelayMs - input.ElemDelayMs), Delay(input, input.ElemDelayMs), .. Removal(input)];

    private static IReadOnlyList<BudgetTerm> OutletTerms(ReactionInput input) =>
        [new(BudgetTermKind.SensorLag, input.Options.OutletLagMs), .. Reading(input, input.SensDelayMs - input.OutlDelayMs), Delay(input, input.OutlDelayMs), .. Removal(input)];

    private static IReadOnlyList<BudgetTerm> ResidualTerms(ReactionInput input) =>
    [
        new(BudgetTermKind.Blanking, WholeScans(input, input.BlankingMs)),
        new(BudgetTermKind.Proof, WholeScans(input, input.ProofMs)),
        .. Reading(input, 0),
        .. Removal(input),
    ];

    private static IReadOnlyList<BudgetTerm> Reading(ReactionInput input, double notGoodDelayMs) =>
    [
        new(BudgetTermKind.Poll, input.PollLeadMs),
        new(BudgetTermKind.Scan, input.ScanMs),
        LostAnswers(input, notGoodDelayMs),
    ];

    /// <summary>
    /// Answers lost in a row, or all of them: then the latest value counts as good until it is stale, FLOW takes a value that
    /// is not good for no flow, and ELEM and OUTL leave it to SENS, whose delay may be longer than their own.
    /// </summary>
    private static BudgetTerm LostAnswers(ReactionInput input, double notGoodDelayMs)
    {
        double stated = input.Options.LostAnswers * Math.Max(input.ScanMs, WholeScans(input, input.AnswerMs));
        double untilStale = Math.Max(0, input.StaleMs - input.PollLeadMs) + WholeScans(input, Math.Max(0, notGoodDelayMs));
        return stated >= untilStale ? new BudgetTerm(BudgetTermKind.LostAnswers, stated) : new BudgetTerm(BudgetTermKind.Staleness, untilStale);
    }

    private static IReadOnlyList<BudgetTerm> Removal(ReactionInput input) =>
        [new(BudgetTermKind.Write, input.AnswerMs), new(BudgetTermKind.Contactor, input.Options.ContactorMs)];

    private static BudgetTerm Delay(ReactionInput input, double delayMs) => new(BudgetTermKind.Delay, WholeScans(input, delayMs));

    private static double WholeScans(ReactionInput input, double ms) => Math.Ceiling(ms / input.ScanMs) * input.ScanMs;
}
