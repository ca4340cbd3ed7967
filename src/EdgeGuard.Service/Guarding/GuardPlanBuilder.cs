using EdgeGuard.Service.Configuration;
using EdgeGuard.Service.FieldIo;

namespace EdgeGuard.Service.Guarding;

/// <summary>A loaded site → the plan of a run: polls and writes sorted to their links.</summary>
public static class GuardPlanBuilder
{
    /// <summary>Builds the plan.</summary>
    public static GuardPlan Build(SiteConfiguration site)
    {
        ArgumentNullException.ThrowIfNull(site);
        return new GuardPlan
        {
            Site = site.Table,
            DataFolder = site.DataFolder,
            RingFolder = site.RingFolder,
            SettingsDigest = site.SettingsDigest,
            KeepMs = site.KeepSeconds * 1_000,
            Bases = [.. site.Table.Units.Select((_, unit) => LearntBases.Of(site, unit))],
            Links = [.. site.Links.Select((link, index) => new LinkPlan(Table(site, link, index), link.Host, link.Port) { Options = link })],
            Statements = site.Notes,
            Verdicts = site.Verdicts,
        };
    }

    private static LinkTable Table(SiteConfiguration site, LinkOptions link, int index) => new()
    {
        Name = link.Name,
        ScanMs = site.Table.ScanMs,
        PollLeadMs = link.PollLeadMs,
        TimeoutMs = link.AnswerMs,
        ConnectTimeoutMs = link.ConnectMs,
        ReconnectMinMs = link.ReconnectMinMs,
        ReconnectMaxMs = link.ReconnectMaxMs,
        Settings = [.. site.Devices.Where(d => d.LinkIndex == index && d.SettingsBlock >= 0).Select(Settings)],
        Polls = [.. site.Blocks.Select(Poll).Where((_, block) => site.Blocks[block].LinkIndex == index)],
        Writes = [.. site.Commands.OfType<CommandPoint>().Where(p => p.LinkIndex == index).Select(Point)],
    };

    private static SettingsTable Settings(DeviceOptions device) =>
        new() { Block = device.SettingsBlock, Device = device.Name, UnitId = device.UnitId, Points = device.Settings };

    private static PollRequestTable Poll(PollBlock block, int index) => new()
    {
        Block = index,
        UnitId = block.DeviceUnitId,
        Table = block.Table,
        Address = block.Address,
        Count = block.Count,
        EveryScans = block.EveryScans,
        Spans = block.Spans,
    };

    private static WritePointTable Point(CommandPoint point) => new()
    {
        Unit = point.Unit,
        Role = point.Role,
        UnitId = point.DeviceUnitId,
        Table = point.Table,
        Address = point.Address,
        Type = point.Type,
        Order = point.Order,
        Scale = point.Scale,
        Offset = point.Offset,
        Min = point.Min,
        Max = point.Max,
    };
}
