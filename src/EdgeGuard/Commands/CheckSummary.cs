using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Thermal;
using EdgeGuard.Records.Journal;
using EdgeGuard.Service.Configuration;
using EdgeGuard.Service.Guarding;
using EdgeGuard.Service.ReactionTimes;
using EdgeGuard.Service.Requests;

namespace EdgeGuard.Commands;

/// <summary>The plain summary of a good site: units, limits in force, what they mean for the gas, load of the links.</summary>
internal static class CheckSummary
{
    /// <summary>Inlet temperature for the computed lines, °C: cold gas needs the most power.</summary>
    private const double InletC = 20;

    /// <summary>Above this a lost answer no longer finds room in the same scan, per cent; a rule of thumb.</summary>
    private const double HighSharePercent = 70;

    public static void Write(SiteConfiguration site, string folder, TextWriter output)
    {
        output.WriteLine($"Site {site.Table.Name}: {Counted.Of(site.Table.Units.Count, "unit")}, {Counted.Of(site.Links.Count, "link")}, scan period {site.Table.ScanMs} ms, supply limit {Limit(site.Table.SupplyLimitKw)}");
        output.WriteLine($"Settings digest {site.SettingsDigest}");
        for (int i = 0; i < site.Table.Units.Count; i++)
        {
            output.WriteLine();
            WriteUnit(site.Table.Units[i], site.Units[i], output);
        }

        output.WriteLine();
        output.WriteLine("Polling, each scan");
        for (int i = 0; i < site.Links.Count; i++)
        {
            WriteLink(site, i, output);
        }

        foreach (string note in site.Notes)
        {
            output.WriteLine($"Note: {note}");
        }

        foreach (SiteFault warning in site.Warnings)
        {
            output.WriteLine($"WARNING: {warning}");
        }

        output.WriteLine();
        string[] unjudged = [.. site.Table.Units.Where((u, i) => u.Enforces && site.Units[i].Budgets.Count == 0).Select(static u => u.Name)];
        if (unjudged.Length > 0)
        {
            output.WriteLine($"WARNING: enforced without knowing whether any function is in time to protect the element: {string.Join(", ", unjudged)}; the notes say what is missing.");
        }

        output.WriteLine($"No faults. Start it with: edgeguard run {folder}");
    }

    private static void WriteUnit(UnitTable unit, UnitOptions facts, TextWriter output)
    {
        string means = unit.FinalElement switch
        {
            FinalElementClass.RelayWithWatchdog => "A, trip relay with watchdog",
            FinalElementClass.EnableWithWatchdog => "B, enable bit with watchdog",
            _ => "C, setpoint or output only: cannot remove power",
        };
        output.WriteLine($"{unit.Name}: {(unit.Mode == UnitMode.Enforce ? "enforce" : "observe")}; {unit.RatedPowerKw} kW, {facts.Gas.ToString().ToLowerInvariant()}, setpoint {unit.SetpointC} °C; final element {means}, watchdog {unit.WatchdogMs} ms");
        output.WriteLine($"  FLOW  trip below {unit.Flow.LimitKgPerHour} kg/h for {unit.Flow.DelayMs} ms; proved at {unit.Flow.ProvingKgPerHour} kg/h for {unit.Flow.PreFlowMs / 1000.0} s, hot restart {unit.Flow.HotPreFlowMs / 1000.0} s");
        output.WriteLine($"  ELEM  alarm {unit.Elem.AlarmC} °C, trip {unit.Elem.TripC} °C after {unit.Elem.DelayMs} ms");
        output.WriteLine($"  OUTL  alarm {unit.Outl.AlarmC} °C, trip {unit.Outl.TripC} °C after {unit.Outl.DelayMs} ms");
        output.WriteLine($"  NORS  trip when power is above {unit.Nors.PowerPercent} % for {unit.Nors.DelayMs / 1000.0} s and the element rises less than {unit.Nors.SlopeKPerMin} K/min or falls faster than {-unit.Nors.FallingKPerMin} K/min");
        output.WriteLine($"  RESD  residual power above {unit.Resd.LimitPercent} % of rated, {unit.Resd.BlankingMs + unit.Resd.ProofMs} ms after removal");
        output.WriteLine($"  COMM  trip without a valid answer for {unit.CommLimitMs} ms; SENS after {unit.SensDelayMs} ms");
        output.WriteLine($"  COOL  setpoint led down at {unit.Cool.RampDownKPerMin} K/min at most, up at {unit.Cool.RampUpKPerMin}; HEAT alarm {unit.Cool.HeatAlarmKPerMin} K/min; AFTC below {unit.Cool.AfterCoolingBelowC} °C");
        WriteComputed(unit, facts, output);
        WriteBudgets(facts, output);
    }

    private static void WriteBudgets(UnitOptions facts, TextWriter output)
    {
        foreach (ReactionBudget budget in facts.Budgets)
        {
            output.WriteLine($"  FAST  {budget.FunctionName} for {budget.ScenarioName}: {BudgetTerm.Seconds(budget.CommandMs)} by command, {BudgetTerm.Seconds(budget.WorstMs)} at worst, of {BudgetTerm.Seconds(budget.AvailableMs)} ({budget.AvailableWords}): {budget.VerdictWords}");
            output.WriteLine($"        {string.Join(" + ", budget.WorstTerms)}");
        }

        output.WriteLine(facts.Budgets.Count > 0
            ? $"  {ReactionBudget.Caveat}"
            : "  FAST  NOT JUDGED: the data of \"reaction\" are not stated, so nothing says whether the functions above act before the element is lost");
    }

    private static void WriteComputed(UnitTable unit, UnitOptions facts, TextWriter output)
    {
        double steadyKw = GasEnthalpy.PowerToHeatKw(facts.Gas, unit.Flow.LimitKgPerHour, InletC, unit.SetpointC);
        double neededKgPerHour = GasEnthalpy.MinimumFlowKgPerHour(facts.Gas, unit.RatedPowerKw, InletC, unit.Elem.TripC);
        output.WriteLine($"  computed from entered data, {InletC} °C at the inlet, no losses: {unit.Flow.LimitKgPerHour} kg/h to the setpoint takes {steadyKw:F1} kW; at rated power the gas itself stays below the element trip from {neededKgPerHour:F0} kg/h on");
    }

    private static void WriteLink(SiteConfiguration site, int link, TextWriter output)
    {
        LinkOptions options = site.Links[link];
        LinkLoad load = site.Loads[link];
        double share = 100 * load.CycleMs / site.Table.ScanMs;
        string basis = load.Stated ? "answer delays as stated" : "answer delay assumed, state \"answerDelayMs\"";
        output.WriteLine($"  {options.Name} ({options.Place}): {Counted.Of(load.Requests, "request")}, {Counted.Of(load.Values, "value")}; bus time a scan {load.PollMs:F0} ms for polling, {load.WriteMs:F0} ms for writes under a permit, {share:F0} % of the scan ({basis}); polling starts {options.PollLeadMs} ms before the scan");
        output.WriteLine($"    a removal waits at most {load.LongestMs:F0} ms for the request under way, {options.AnswerMs} ms if its device is silent");
        foreach (CertificateReport certificate in CertificateReports.Of(options.Security, DateTime.UtcNow))
        {
            output.WriteLine($"    {certificate.What}: {certificate.Words}, until {certificate.Until}");
        }

        if (load.WorstPollMs > options.PollLeadMs)
        {
            output.WriteLine($"  Note: {options.Name}: polling takes up to {load.WorstPollMs:F0} ms and may not be complete at the scan; values would be one scan older. Raise \"pollLeadMs\" or \"scanMs\".");
        }

        if (share > HighSharePercent)
        {
            output.WriteLine($"  Note: {options.Name}: {share:F0} % of the line is taken; one lost answer delays everything behind it. Raise \"scanMs\" or \"baud\", or read some points less often (column \"every\").");
        }
    }

    private static string Limit(double kilowatt) => double.IsInfinity(kilowatt) ? "none" : $"{kilowatt} kW";
}
