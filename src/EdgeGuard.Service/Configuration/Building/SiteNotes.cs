using EdgeGuard.Core.Interlocks;
using EdgeGuard.Records.Journal;
using EdgeGuard.Service.Configuration.Drafts;
using EdgeGuard.Service.Configuration.Maps;
using EdgeGuard.Service.Configuration.Schema;
using EdgeGuard.Service.ReactionTimes;

namespace EdgeGuard.Service.Configuration.Building;

/// <summary>What is allowed but should be known, one sentence each.</summary>
internal static class SiteNotes
{
    /// <summary>What the process safety time and the chains are computed from, as the rules of "reaction" ask for it.</summary>
    private const string MissingReaction =
        "\"reaction\" with \"massKg\" (or \"wireMm\" and \"surfaceLoadWPerCm2\"), \"heatCapacityKJPerKgK\", \"elementLagMs\" and \"meterDampingMs\"";

    public static IReadOnlyList<string> Of(SiteDraft site)
    {
        var notes = new List<string>();
        foreach (UnitDraft unit in site.Units)
        {
            AddMode(site, unit, notes);
            AddProofTest(site, unit, notes);
            AddReaction(site, unit, notes);
            AddAlarms(unit, notes);
            if (unit.Enforces && unit.HardwiredDevice.Date("expires") is { } expires)
            {
                notes.Add($"{unit.Name}: power is removed by the hardwired device \"{unit.HardwiredDevice.Text("name")}\" only; stated until {expires:yyyy-MM-dd}.");
            }

            foreach (CommandFact command in CommandFacts.All.Where(c => unit.Enforces && unit.BoundCommands.ContainsKey(c.Role) && !unit.BoundSignals.ContainsKey(c.ReadBack)))
            {
                notes.Add($"{unit.Name}: the command \"{command.Name}\" is not read back: nothing shows whether it has arrived.");
            }

            if (unit.Forcible.Count > 0)
            {
                string start = unit.Force.Flag("startWhileForced") ? "; it may be started with one" : string.Empty;
                notes.Add($"{unit.Name}: values of {string.Join(", ", unit.Forcible.Select(f => f.Role.Name))} may be forced by a person for up to {unit.Force.Number("maxMinutes")} min{start}.");
            }

            if (unit.RatedPowerKw > site.Section.Number("supplyLimitKw", double.PositiveInfinity))
            {
                notes.Add($"{unit.Name}: rated power is above the supply limit of the site; its ramp will be held.");
            }
        }

        AddPublication(site.Publication, notes);
        return notes;
    }

    private static void AddPublication(Section publication, List<string> notes)
    {
        if (publication.Flag("enabled") && publication.Flag("allowNone"))
        {
            notes.Add($"publication: clients may connect without security from any network that reaches {publication.Text("bind") ?? "127.0.0.1"}.");
        }
    }

    private static void AddAlarms(UnitDraft unit, List<string> notes)
    {
        string[] marked = [.. AlarmFlags.All.Where(f => unit.Alarms.Flag(f.Name)).Select(f => AlarmTexts.CodeOf(f.Alarm))];
        if (marked.Length > 0)
        {
            notes.Add($"{unit.Name}: the alarm of {string.Join(", ", marked)} may be hidden although it is that of a trip.");
        }
    }

    private static void AddReaction(SiteDraft site, UnitDraft unit, List<string> notes)
    {
        if (!unit.Reaction.Stated)
        {
            string missing = unit.Elem.Has("destructionC") ? MissingReaction : MissingReaction + ", and \"destructionC\" in \"elem\"";
            notes.Add(unit.Enforces
                ? $"{unit.Name}: WARNING, it enforces and it is not known whether any function is in time to protect the element: nothing is judged without {missing}; see docs/reference/reaction-time.md."
                : $"{unit.Name}: without {missing} it is not known whether any function is in time; see docs/reference/reaction-time.md.");
            return;
        }

        foreach (ReactionBudget budget in ReactionDraft.Budgets(site, unit).Where(b => b.Verdict != BudgetVerdict.InTime))
        {
            notes.Add(budget.Verdict == BudgetVerdict.NoCover
                ? $"{unit.Name}: a sheathed element sensor is no cover for dry fire; FLOW is."
                : $"{unit.Name}: {budget.FunctionName} for {budget.ScenarioName}: {budget.VerdictWords}, {BudgetTerm.Seconds(budget.WorstMs)} of {BudgetTerm.Seconds(budget.AvailableMs)}, most of it {budget.Dominant}.");
        }
    }

    private static void AddMode(SiteDraft site, UnitDraft unit, List<string> notes)
    {
        if (unit.Mode != UnitMode.Observe)
        {
            return;
        }

        notes.Add($"{unit.Name}: observe: decides and records, writes nothing, protects nothing.");
        if (!unit.HasWatchdog)
        {
            return;
        }

        if (unit.WatchdogBridge.Date("expires") is not { } expires)
        {
            notes.Add($"{unit.Name}: a fitted watchdog contact must be bridged while the unit observes; \"watchdogBridge\" does not say by whom and until when.");
        }
        else if (expires <= site.Today)
        {
            notes.Add($"{unit.Name}: the watchdog bridge stated by {unit.WatchdogBridge.Text("by")} expired on {expires:yyyy-MM-dd}.");
        }
    }

    private static void AddProofTest(SiteDraft site, UnitDraft unit, List<string> notes)
    {
        if (unit.ProofTest.Date("date") is { } tested)
        {
            if (site.Today.DayNumber - tested.DayNumber > ProofTestDates.IntervalDays)
            {
                notes.Add($"{unit.Name}: the latest proof test of {tested:yyyy-MM-dd} is more than a year old.");
            }
        }
        else if (unit.Enforces && unit.ProofTestWaiver.Date("expires") is { } expires)
        {
            notes.Add($"{unit.Name}: enforces without a proof test until {expires:yyyy-MM-dd}: {unit.ProofTestWaiver.Text("reason")}.");
        }
    }
}
