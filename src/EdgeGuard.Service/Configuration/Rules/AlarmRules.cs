using EdgeGuard.Records.Journal;
using EdgeGuard.Service.Configuration.Drafts;
using EdgeGuard.Service.Configuration.Schema;

namespace EdgeGuard.Service.Configuration.Rules;

/// <summary>What may be hidden of the alarms: a mark that can have no effect is a misunderstanding.</summary>
internal static class AlarmRules
{
    public static void Check(SiteDraft site, FaultList faults)
    {
        foreach (UnitDraft unit in site.Units.Where(static u => u.Alarms.Number("maxMinutes") == 0 && !u.Alarms.Flag("outOfService")))
        {
            foreach (var marked in AlarmFlags.All.Where(f => unit.Alarms.Flag(f.Name)))
            {
                faults.Add(unit.Alarms.At(marked.Name), $"the alarm of {AlarmTexts.CodeOf(marked.Alarm)} is marked and nothing may be hidden", "maxMinutes 0, outOfService false", "a time on the shelf, or outOfService", $"to leave \"{marked.Name}\" out");
            }
        }
    }
}
