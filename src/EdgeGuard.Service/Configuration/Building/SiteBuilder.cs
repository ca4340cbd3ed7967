using EdgeGuard.Core.Interlocks;
using EdgeGuard.Service.Configuration.Drafts;
using EdgeGuard.Service.Configuration.Rules;

namespace EdgeGuard.Service.Configuration.Building;

/// <summary>Makes the immutable configuration of a draft that has no fault.</summary>
internal static class SiteBuilder
{
    private const string DefaultDataFolder = "data";
    private const string DefaultBind = "127.0.0.1";

    public static SiteConfiguration Build(SiteDraft draft, PollPlan plan, string folder)
    {
        IReadOnlyList<DeviceOptions> devices = SettingsBuilder.Build(draft, plan.Blocks.Count);
        var verdicts = new SettingsVerdicts(draft, devices, plan.Blocks.Count + devices.Count(static d => d.SettingsBlock >= 0));
        var site = new SiteConfiguration
        {
            Folder = folder,
            DataFolder = Path.GetFullPath(Path.Combine(folder, draft.Section.Text("dataFolder") ?? DefaultDataFolder)),
            RingFolder = draft.Section.Text("ringFolder") is { } ring ? Path.GetFullPath(Path.Combine(folder, ring)) : null,
            Table = BuildTable(draft, plan, devices, verdicts),
            Links = [.. draft.Links.Select(BuildLink)],
            Loads = [.. draft.Links.Select((_, i) => LoadBuilder.Of(draft, plan, i))],
            Blocks = plan.Blocks,
            Devices = devices,
            Verdicts = verdicts.Combined,
            Commands = [.. draft.Units.SelectMany(u => CommandBuilder.Build(u))],
            Units = [.. draft.Units.Select(u => BuildOptions(draft, u))],
            Publication = BuildPublication(draft.Publication),
            KeepSeconds = (int)draft.Section.Number("keepSeconds"),
            Notes = SiteNotes.Of(draft),
            Warnings = TimePlausibility.Of(draft),
            SettingsDigest = string.Empty,
            SettingsText = string.Empty,
        };
        string text = Configuration.SettingsText.Write(site);
        return site with { SettingsText = text, SettingsDigest = Configuration.SettingsText.Digest(text) };
    }

    private static SiteTable BuildTable(SiteDraft draft, PollPlan plan, IReadOnlyList<DeviceOptions> devices, SettingsVerdicts verdicts) => new()
    {
        Name = draft.Name!,
        ScanMs = (int)draft.ScanMs,
        SupplyLimitKw = draft.Section.Number("supplyLimitKw", double.PositiveInfinity),
        JournalFailureMs = (int)draft.Section.Number("journalFailureMs"),
        BlockWordCounts = [.. plan.Blocks.Select(b => b.Count), .. devices.Where(d => d.SettingsBlock >= 0).Select(_ => 1), .. verdicts.Combined.Select(_ => 1)],
        Units = [.. draft.Units.Select(u => UnitBuilder.Build(u, draft.ScanMs, plan, verdicts))],
    };

    private static LinkOptions BuildLink(LinkDraft link) => new()
    {
        Name = link.Name!,
        Transport = link.Transport,
        Host = link.Host ?? string.Empty,
        Port = (int)link.Port,
        SerialPort = link.SerialPort ?? string.Empty,
        Baud = double.IsFinite(link.Baud) ? (int)link.Baud : 0,
        Parity = link.Parity,
        StopBits = (int)link.StopBits,
        ConnectMs = (int)link.ConnectMs,
        AnswerMs = (int)link.AnswerMs,
        PollLeadMs = (int)link.PollLeadMs,
        ReconnectMinMs = (int)link.ReconnectMinMs,
        ReconnectMaxMs = (int)link.ReconnectMaxMs,
        ZeroTransactionIds = link.ZeroTransactionIds,
        LocalEcho = link.LocalEcho,
        Security = link.Tls,
    };

    private static PublisherOptions BuildPublication(Section publication) => new()
    {
        Enabled = publication.Flag("enabled"),
        Port = (int)publication.Number("port"),
        Bind = publication.Text("bind") ?? DefaultBind,
        AllowNone = publication.Flag("allowNone"),
        MemoryLimitMb = (int)publication.Number("memoryLimitMb"),
        DiscoveryServer = publication.Text("discoveryServer") is { } server ? new Uri(server, UriKind.Absolute) : null,
        RegisterSeconds = (int)publication.Number("registerSeconds"),
    };

    private static UnitOptions BuildOptions(SiteDraft site, UnitDraft unit) => new()
    {
        Gas = unit.Gas,
        ElementDestructionC = unit.Elem.Number("destructionC"),
        HotToColdFlow = unit.Flow.Number("hotToColdFlow"),
        FiringCycleMs = (int)unit.Resd.Number("firingCycleMs"),
        Reaction = ReactionDraft.Options(unit.Reaction),
        Budgets = ReactionDraft.Budgets(site, unit),
        SharedWithControl = [.. unit.BoundSignals.Where(s => ReferenceEquals(s.Value.Device, unit.Controller)).Select(s => s.Key).Order()],
        HardwiredDevice = Statement(unit.HardwiredDevice, "name", "expires"),
        ProofTest = Statement(unit.ProofTest, "record", "date"),
        ProofTestWaiver = Statement(unit.ProofTestWaiver, "reason", "expires"),
        WatchdogBridge = Statement(unit.WatchdogBridge, "by", "expires"),
    };

    private static DatedStatement? Statement(Section section, string text, string date) =>
        section.Stated ? new DatedStatement(section.Text(text)!, section.Date(date)!.Value) : null;
}
