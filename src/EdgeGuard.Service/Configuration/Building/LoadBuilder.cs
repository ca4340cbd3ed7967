using EdgeGuard.Core.Interlocks;
using EdgeGuard.Service.Configuration.Drafts;

namespace EdgeGuard.Service.Configuration.Building;

/// <summary>Adds up what the poll list and the cyclic writes of a link take.</summary>
internal static class LoadBuilder
{
    public static LinkLoad Of(SiteDraft site, PollPlan plan, int link)
    {
        LinkDraft draft = site.Links[link];
        int baud = double.IsFinite(draft.Baud) ? (int)draft.Baud : 0;
        PollBlock[] blocks = [.. plan.Blocks.Where(b => b.LinkIndex == link)];
        double[] reads = [.. blocks.Select(b => LineTiming.ReadMs(b.Table, b.Count, baud, b.AnswerDelayMs))];
        double[] writes = [.. site.Units.Where(u => u.Enforces).SelectMany(u => CyclicWrites(u, link, baud))];
        return new LinkLoad
        {
            Requests = blocks.Length,
            Values = blocks.Sum(b => b.Count),
            PollMs = blocks.Select((b, i) => reads[i] / b.EveryScans).Sum(),
            WorstPollMs = reads.Sum(),
            WriteMs = writes.Sum(),
            LongestMs = reads.Concat(writes).DefaultIfEmpty(0).Max(),
            Stated = site.Devices.Where(d => d.Link == link).All(d => d.Section.Has("answerDelayMs"))
                && (draft.Transport == LinkTransport.Tcp || baud > 0),
        };
    }

    /// <summary>The permit token goes out in every scan under a permit, the setpoint while it is led.</summary>
    private static IEnumerable<double> CyclicWrites(UnitDraft unit, int link, int baud)
    {
        foreach (CommandRole role in (CommandRole[])[CommandRole.Heartbeat, CommandRole.Setpoint])
        {
            if (unit.BoundCommands.TryGetValue(role, out BoundPoint? bound) && bound.Device.Link == link)
            {
                yield return LineTiming.WriteMs(bound.Point.WordCount, baud, bound.Device.AnswerDelayMs);
            }
        }
    }
}
