using System.Globalization;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Service.Configuration.Drafts;
using EdgeGuard.Service.ReactionTimes;

namespace EdgeGuard.Service.Configuration.Rules;

// FAST. Settings whose chain is longer than the time to the element's destruction cannot protect it, so they are refused,
// with the term that takes the most. Dry fire must be covered by FLOW, runaway by ELEM, residual power by RESD: a
// sheathed element sensor shows the wire of a dry heater too late whatever its lag in gas is, and a sensor on the wire
// shares its path with control. OUTL comes on top of ELEM and is only noted. Functions that are late together have one
// cause, a long term that all of them have or an element that is lost too soon, and are told in one fault.

/// <summary>The chain of each function against the process safety time.</summary>
internal static class ReactionRules
{
    public static void Check(SiteDraft site, FaultList faults)
    {
        foreach (UnitDraft unit in site.Units.Where(u => u.Reaction.Stated))
        {
            CheckData(unit, faults);
            if (unit.TripsAfterDestruction)
            {
                continue; // Told by the ladder of temperatures; every chain would be too long for a time that is none.
            }

            IReadOnlyList<ReactionBudget> budgets = ReactionDraft.Budgets(site, unit);
            ReactionBudget[] late = [.. budgets.Where(b => b.Verdict == BudgetVerdict.TooSlow && MustBeInTime(b))];
            if (late.Length > 0)
            {
                Refuse(site, unit, late, faults);
            }

            if (late.Length == 1)
            {
                CheckOnlyCover(unit, budgets, faults);
            }
        }
    }

    private static bool MustBeInTime(ReactionBudget budget) => (budget.Scenario, budget.Function) switch
    {
        (ProtectionScenario.DryFire, FunctionId.Elem) or (ProtectionScenario.Runaway, FunctionId.Outl) => false,
        _ => true,
    };

    private static void CheckData(UnitDraft unit, FaultList faults)
    {
        Section reaction = unit.Reaction;
        if (!unit.Elem.Has("destructionC"))
        {
            faults.Add(unit.Elem.Place, "the process safety time cannot be computed", "no \"destructionC\" in \"elem\"", "the temperature at which the element is destroyed", "\"destructionC\" after the maker of the element, or to leave \"reaction\" out");
        }

        if (!reaction.Has("massKg") && !(reaction.Has("wireMm") && reaction.Has("surfaceLoadWPerCm2")))
        {
            faults.Add(reaction.Place, "the process safety time cannot be computed", "neither \"massKg\" nor \"wireMm\" with \"surfaceLoadWPerCm2\"", "one of the two, after the maker of the element", "\"massKg\", the mass of the heated wire");
        }
    }

    private static void Refuse(SiteDraft site, UnitDraft unit, ReactionBudget[] late, FaultList faults)
    {
        ReactionBudget budget = late[0];
        BudgetTerm most = budget.Dominant;
        string others = string.Concat(late.Skip(1).Select(static b => $"; nor can {b.FunctionName} for {b.ScenarioName}, {BudgetTerm.Seconds(b.WorstMs)} of {BudgetTerm.Seconds(b.AvailableMs)}"));
        bool oneTerm = late.All(b => b.Dominant.Kind == most.Kind);
        string first = oneTerm ? string.Empty : "to look first whether the mass or wire, \"heatCapacityKJPerKgK\", \"ratedPowerKw\", \"tripC\" and \"destructionC\" are those of this element; then ";
        faults.Add(
            Place(site, unit, budget, most.Kind),
            $"{budget.FunctionName} cannot be in time for {budget.ScenarioName}",
            $"a chain of {BudgetTerm.Seconds(budget.WorstMs)}, most of it {most}: {string.Join(" + ", budget.WorstTerms)}{others}",
            $"less than the process safety time of {BudgetTerm.Seconds(budget.AvailableMs)} ({budget.AvailableWords}; computed from entered data, not a validation)",
            $"{first}{(most.Kind == BudgetTermKind.Staleness ? "a shorter \"staleMs\" or delay of SENS" : "less " + most.Name)}, or an element that takes longer to its destruction");
    }

    /// <summary>FLOW too slow leaves ELEM alone against dry fire: said apart, since its figures may look as if it could.</summary>
    private static void CheckOnlyCover(UnitDraft unit, IReadOnlyList<ReactionBudget> budgets, FaultList faults)
    {
        ReactionBudget? flow = budgets.FirstOrDefault(b => b is { Scenario: ProtectionScenario.DryFire, Function: FunctionId.Flow });
        ReactionBudget? elem = budgets.FirstOrDefault(b => b is { Scenario: ProtectionScenario.DryFire, Function: FunctionId.Elem });
        if (flow is not { Verdict: BudgetVerdict.TooSlow } || elem is null or { Verdict: BudgetVerdict.TooSlow })
        {
            return;
        }

        string found = elem.Covers
            ? string.Create(CultureInfo.InvariantCulture, $"a sensor on the wire, chain {BudgetTerm.Seconds(elem.WorstMs)}, read through the controller that it would have to stand in for")
            : "a sheathed element sensor, which lags behind the wire and is no cover for dry fire";
        faults.Add(unit.Reaction.At("elementSensor"), "ELEM would be the only cover for dry fire", found, "FLOW in time: minimum flow covers dry fire", "to shorten the chain of FLOW; see the fault about it");
    }

    private static TextPosition Place(SiteDraft site, UnitDraft unit, ReactionBudget budget, BudgetTermKind kind) => kind switch
    {
        BudgetTermKind.SensorLag => unit.Reaction.At(budget.Function == FunctionId.Outl ? "outletLagMs" : "elementLagMs"),
        BudgetTermKind.MeterDamping => unit.Reaction.At("meterDampingMs"),
        BudgetTermKind.LostAnswers => unit.Reaction.At("lostAnswers"),
        BudgetTermKind.Staleness => unit.Sens.At("staleMs"),
        BudgetTermKind.Contactor => unit.Reaction.At("contactorMs"),
        BudgetTermKind.Poll or BudgetTermKind.Scan => site.Section.At("scanMs"),
        BudgetTermKind.Delay => (budget.Function == FunctionId.Flow ? unit.Flow : unit.Elem).At("delayMs"),
        BudgetTermKind.Blanking => unit.Resd.At("blankingMs"),
        BudgetTermKind.Proof => unit.Resd.At("proofMs"),
        BudgetTermKind.Watchdog => unit.Section.At("watchdogMs"),
        _ => unit.Section.Place,
    };
}
