using System.Text;
using System.Text.Json;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Service.Configuration;
using EdgeGuard.Service.Guarding;
using EdgeGuard.Service.ReactionTimes;
using EdgeGuard.Service.Requests;

namespace EdgeGuard.Commands;

/// <summary>The result of `check --json`: one object on one line, with faults or with the summary.</summary>
internal static class CheckJson
{
    public static string Write(SiteLoadResult result)
    {
        using var buffer = new MemoryStream();
        using (var json = new Utf8JsonWriter(buffer))
        {
            json.WriteStartObject();
            json.WriteBoolean("good", result.Site is not null);
            WriteFaults(json, "faults", result.Faults);
            if (result.Site is { } site)
            {
                WriteSite(json, site);
            }

            json.WriteEndObject();
        }

        return Encoding.UTF8.GetString(buffer.ToArray());
    }

    private static void WriteFaults(Utf8JsonWriter json, string name, IReadOnlyList<SiteFault> faults)
    {
        json.WriteStartArray(name);
        foreach (SiteFault fault in faults)
        {
            json.WriteStartObject();
            json.WriteString("file", fault.File);
            json.WriteNumber("line", fault.Line);
            json.WriteNumber("column", fault.Column);
            json.WriteString("what", fault.What);
            json.WriteString("found", fault.Found);
            json.WriteString("expected", fault.Expected);
            json.WriteString("try", fault.Try);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void WriteLinks(Utf8JsonWriter json, SiteConfiguration site)
    {
        json.WriteStartArray("links");
        for (int i = 0; i < site.Links.Count; i++)
        {
            LinkLoad load = site.Loads[i];
            json.WriteStartObject();
            json.WriteString("name", site.Links[i].Name);
            json.WriteNumber("requests", load.Requests);
            json.WriteNumber("values", load.Values);
            json.WriteNumber("pollMs", Math.Round(load.PollMs, 1));
            json.WriteNumber("worstPollMs", Math.Round(load.WorstPollMs, 1));
            json.WriteNumber("writeMs", Math.Round(load.WriteMs, 1));
            json.WriteNumber("longestMs", Math.Round(load.LongestMs, 1));
            json.WriteBoolean("delaysStated", load.Stated);
            WriteCertificates(json, site.Links[i]);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void WriteCertificates(Utf8JsonWriter json, LinkOptions link)
    {
        json.WriteStartArray("certificates");
        foreach (CertificateReport certificate in CertificateReports.Of(link.Security, DateTime.UtcNow))
        {
            json.WriteStartObject();
            json.WriteString("what", certificate.What);
            json.WriteString("until", certificate.Until);
            json.WriteNumber("daysLeft", certificate.DaysLeft);
            json.WriteString("level", certificate.Level);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void WriteSite(Utf8JsonWriter json, SiteConfiguration site)
    {
        json.WriteString("site", site.Table.Name);
        json.WriteNumber("scanMs", site.Table.ScanMs);
        json.WriteString("settingsDigest", site.SettingsDigest);
        json.WriteNumber("requestsPerScan", site.Blocks.Count);
        WriteLinks(json, site);
        json.WriteStartArray("units");
        for (int i = 0; i < site.Table.Units.Count; i++)
        {
            UnitTable unit = site.Table.Units[i];
            json.WriteStartObject();
            json.WriteString("name", unit.Name);
            json.WriteString("mode", unit.Mode == UnitMode.Enforce ? "enforce" : "observe");
            json.WriteNumber("flowLimitKgPerHour", unit.Flow.LimitKgPerHour);
            json.WriteNumber("flowProvingKgPerHour", unit.Flow.ProvingKgPerHour);
            json.WriteNumber("elementTripC", unit.Elem.TripC);
            json.WriteNumber("outletTripC", unit.Outl.TripC);
            json.WriteNumber("watchdogMs", unit.WatchdogMs);
            WriteBudgets(json, site.Units[i].Budgets);
            json.WriteEndObject();
        }

        json.WriteEndArray();
        WriteFaults(json, "warnings", site.Warnings);
        json.WriteStartArray("notes");
        foreach (string note in site.Notes)
        {
            json.WriteStringValue(note);
        }

        json.WriteEndArray();
    }

    /// <summary>Computed from entered data, not a validation; empty where the data are not stated.</summary>
    private static void WriteBudgets(Utf8JsonWriter json, IReadOnlyList<ReactionBudget> budgets)
    {
        json.WriteStartArray("computedReactionTimes");
        foreach (ReactionBudget budget in budgets)
        {
            json.WriteStartObject();
            json.WriteString("scenario", budget.ScenarioName);
            json.WriteString("function", budget.FunctionName);
            json.WriteString("verdict", budget.VerdictWords);
            json.WriteNumber("commandMs", Math.Round(budget.CommandMs));
            json.WriteNumber("worstMs", Math.Round(budget.WorstMs));
            json.WriteNumber("processSafetyTimeMs", Math.Round(budget.AvailableMs));
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }
}
