using EdgeGuard.Service.Configuration.Building;
using EdgeGuard.Service.Configuration.Drafts;

namespace EdgeGuard.Service.Configuration.Rules;

// A poll list that cannot be read in time shows on the plant as values that are always old and as skipped rounds; here
// it shows before anything is started. Refused is what the arithmetic of the line excludes; what rests on an assumed
// answer delay alone is told by `edgeguard check`.

/// <summary>The poll list fits the line.</summary>
internal static class LoadRules
{
    public static void Check(SiteDraft site, PollPlan plan, FaultList faults)
    {
        for (int i = 0; i < site.Links.Count; i++)
        {
            LinkDraft link = site.Links[i];
            LinkLoad load = LoadBuilder.Of(site, plan, i);
            if (load.Stated || double.IsFinite(link.Baud))
            {
                CheckCycle(site, link, load, faults);
            }

            if (load.LongestMs >= link.AnswerMs)
            {
                faults.Add(link.Section.At("answerMs"), "the longest request takes longer than an answer may", $"{load.LongestMs:F0} ms for it, {link.AnswerMs} ms for an answer", "a request well within the time limit of an answer", "a larger \"answerMs\", a higher \"baud\", or a smaller \"maxRegisters\" of the device");
            }
        }
    }

    private static void CheckCycle(SiteDraft site, LinkDraft link, LinkLoad load, FaultList faults)
    {
        if (load.CycleMs <= site.ScanMs)
        {
            return;
        }

        double scanMs = Math.Ceiling(load.CycleMs / 50) * 50;
        string slower = scanMs <= 1_000 ? $"\"scanMs\": {scanMs}, " : string.Empty;
        faults.Add(link.Section.Place, $"the poll list of link {Quoted.Of(link.Name ?? "?")} cannot be read once a scan", $"{load.CycleMs:F0} ms of bus time a scan ({load.Requests} requests, {load.Values} values)", $"at most the scan period of {site.ScanMs} ms", $"{slower}a higher \"baud\", fewer points, or column \"every\" for points that may be older");
    }
}
