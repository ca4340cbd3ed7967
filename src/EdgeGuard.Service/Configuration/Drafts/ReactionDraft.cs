using EdgeGuard.Core.Signals;
using EdgeGuard.Service.ReactionTimes;

namespace EdgeGuard.Service.Configuration.Drafts;

/// <summary>Gathers what the reaction budgets of a unit are computed from; a value that is wrong in the file is NaN and gives no budget.</summary>
internal static class ReactionDraft
{
    public static IReadOnlyList<ReactionBudget> Budgets(SiteDraft site, UnitDraft unit) =>
        unit.Reaction.Stated && unit.BindingComplete && HasWholeOptions(unit.Reaction) ? ReactionCalculator.Of(Input(site, unit)) : [];

    public static ReactionOptions Options(Section section) => new()
    {
        Stated = section.Stated,
        MassKg = section.Number("massKg"),
        HeatCapacityKJPerKgK = section.Number("heatCapacityKJPerKgK"),
        WireMm = section.Number("wireMm"),
        SurfaceLoadWPerCm2 = section.Number("surfaceLoadWPerCm2"),
        DensityKgPerM3 = section.Number("densityKgPerM3"),
        SensorOnWire = section.Text("elementSensor") is "onWire",
        ElementLagMs = Whole(section, "elementLagMs"),
        OutletLagMs = Whole(section, "outletLagMs"),
        MeterDampingMs = Whole(section, "meterDampingMs"),
        ContactorMs = Whole(section, "contactorMs"),
        LostAnswers = Whole(section, "lostAnswers"),
        SupplyPercent = section.Number("supplyPercent"),
        ElementOverGasK = section.Number("elementOverGasK"),
    };

    /// <summary>0 for what is absent or wrong: then no budget is computed, and a fault says why.</summary>
    private static int Whole(Section section, string key) => section.Number(key) is var number && double.IsFinite(number) ? (int)number : 0;

    private static bool HasWholeOptions(Section section) => double.IsFinite(
        section.Number("elementLagMs") + section.Number("outletLagMs") + section.Number("meterDampingMs")
        + section.Number("contactorMs") + section.Number("lostAnswers") + section.Number("supplyPercent"));

    private static ReactionInput Input(SiteDraft site, UnitDraft unit)
    {
        LinkDraft[] links = [.. new[] { unit.Controller, unit.Meter }.Where(d => d is { Link: >= 0 }).Select(d => site.Links[d!.Link])];
        unit.BoundSignals.TryGetValue(SignalRole.GasFlow, out BoundPoint? flow);
        return new ReactionInput
        {
            Options = Options(unit.Reaction),
            RatedPowerKw = unit.RatedPowerKw,
            ScanMs = site.ScanMs,
            PollLeadMs = links.Length == 0 ? double.NaN : links.Max(l => l.PollLeadMs),
            AnswerMs = links.Length == 0 ? double.NaN : links.Max(l => l.AnswerMs),
            StaleMs = unit.StaleMs(site.ScanMs),
            SensDelayMs = unit.Sens.Number("delayMs"),
            WatchdogMs = unit.HasWatchdog ? unit.WatchdogMs : double.NaN,
            FlowLimitKgPerHour = unit.Flow.Number("limitKgPerHour"),
            FlowRangeKgPerHour = flow?.CoreRange(unit.Gas).Max ?? double.NaN,
            FlowDelayMs = unit.Flow.Number("delayMs"),
            ElemTripC = unit.Elem.Number("tripC"),
            ElemDelayMs = unit.Elem.Number("delayMs"),
            DestructionC = unit.Elem.Number("destructionC"),
            OutlTripC = unit.Outl.Number("tripC"),
            OutlDelayMs = unit.Outl.Number("delayMs"),
            BlankingMs = unit.Resd.Number("blankingMs"),
            ProofMs = unit.Resd.Number("proofMs"),
        };
    }
}
