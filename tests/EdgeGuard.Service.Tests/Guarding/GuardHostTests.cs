using System.Net;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Modbus.Pdu;
using EdgeGuard.Modbus.Server;
using EdgeGuard.Modbus.Transports;
using EdgeGuard.Service.Configuration;
using EdgeGuard.Service.Guarding;
using EdgeGuard.Service.Tests.FieldIo;
using Serilog;

namespace EdgeGuard.Service.Tests.Guarding;

/// <summary>The whole run in this process, on devices in memory, conducted by text.</summary>
public sealed class GuardHostTests
{
    private static readonly SiteConfiguration Site = GuardSites.PilotHall();

    private readonly string _data = Directory.CreateTempSubdirectory("edgeguard").FullName;
    private readonly LineList _lines = new();

    [Fact]
    public void The_plan_gives_every_block_and_every_command_to_exactly_one_link()
    {
        GuardPlan plan = GuardPlanBuilder.Build(Site);
        Assert.Equal(Enumerable.Range(0, Site.Blocks.Count), plan.Links.SelectMany(static l => l.Table.Polls).Select(static p => p.Block).Order());
        int[] commands = [.. plan.Links.SelectMany(static l => l.Table.Writes).Select(static w => w.Index).Order()];
        Assert.Equal(Enumerable.Range(0, Site.Commands.Count).Where(static i => Site.Commands[i] is not null), commands);
        WritePoint(plan, CommandRole.BlowerDemand, 7, 0.1);
        WritePoint(plan, CommandRole.Setpoint, 5, 1);
    }

    [Fact]
    public void Devices_that_never_answer_end_unconfirmed_and_the_journal_says_so()
    {
        Assert.Equal(GuardEnd.StoppedUnconfirmed, Run("scan 1764000000000\nscan 1764000000100\nstop\n", static _ => new FakeLink { Refusing = true }));
        string journal = File.ReadAllText(Path.Combine(_data, "journal", "journal-000001.log"));
        Assert.Contains("\"event\":\"stop-unconfirmed\"", journal, StringComparison.Ordinal);
        Assert.Contains("\"event\":\"clean-stop\"", journal, StringComparison.Ordinal);
        Assert.StartsWith("{\"n\":1,", journal, StringComparison.Ordinal);
        Assert.Contains("\"utc\":\"2025-11-24T16:00:00.000Z\"", journal, StringComparison.Ordinal);
    }

    [Fact]
    public void The_end_of_the_conductors_input_is_a_stop_and_every_path_of_removal_was_written()
    {
        var links = new List<FakeLink>();
        Assert.Equal(GuardEnd.Stopped, Run("scan 1764000000000\nnonsense\n", plan => Add(links, plan)));
        foreach (FakeLink link in links)
        {
            // Registers of the example map (docs/reference/site-file.md): 0 permit token, 1 relay, 2 enable.
            Assert.Contains("write 1:0=0", link.Writes);
            Assert.Contains("write 1:1=0", link.Writes);
            Assert.Contains("write 1:2=0", link.Writes);
            Assert.DoesNotContain("write 1:1=1", link.Writes);
        }
    }

    [Fact]
    public void A_device_that_refuses_a_function_of_a_removal_stands_in_the_journal_once()
    {
        var device = new PickyDevice { Lacks = static f => f == FunctionCode.WriteSingleRegister };
        using var server = new TcpModbusServer(new IPEndPoint(IPAddress.Loopback, 0), new Dictionary<byte, IModbusDevice> { [1] = device, [2] = new PickyDevice() });
        server.Start();
        Run("scan 1764000000000\nscan 1764000000100\nscan 1764000000200\nstop\n", _ => new TcpModbusLink(new IPEndPoint(IPAddress.Loopback, server.Port)), patientMs: 5_000);
        Assert.Contains("register 1=0", device.Written);
        string journal = File.ReadAllText(Path.Combine(_data, "journal", "journal-000001.log"));
        string[] told = [.. journal.Split('\n').Where(static l => l.Contains("\"event\":\"function-replaced\"", StringComparison.Ordinal))];
        Assert.Equal(Site.Links.Count, told.Length); // both links lead to this device, and each tells it once
        Assert.All(told, static l => Assert.Contains(": unit id 1 refuses function 06 (exception 01); its single registers are written by function 16 from now on", l, StringComparison.Ordinal));
    }

    [Fact]
    public void One_unit_on_one_link_is_told_in_the_singular()
    {
        SiteConfiguration minimal = SiteLoader.Load(Configuration.SiteFolders.Minimal).Site!;
        Assert.Equal(GuardEnd.Stopped, Run("stop\n", static _ => new FakeLink(), site: minimal));
        Assert.Contains("guarding minimal: 1 unit, 1 link, scan 100 ms", _lines.Texts);
    }

    /// <summary>Told by the supervisor, once at the beginning and once when it is over; the guard guards meanwhile.</summary>
    [Fact]
    public void A_journal_that_cannot_be_written_is_told_in_the_log_and_so_is_its_end()
    {
        string inTheWay = Path.Combine(_data, "journal");
        File.WriteAllText(inTheWay, string.Empty);
        int told = 0;
        using var commands = new StepReader("scan 1764000000000", () =>
        {
            told = _lines.Texts.Count(static l => l.StartsWith("the journal cannot be written: ", StringComparison.Ordinal));
            File.Delete(inTheWay);
            return SpinWait.SpinUntil(() => _lines.Texts.Any(static l => l.StartsWith("the journal can be written again, after ", StringComparison.Ordinal)), 30_000) ? "stop" : null;
        });
        Run(ConductedConsole.Open(commands, new StringWriter()), static _ => new FakeLink());
        Assert.Equal(1, told);
        Assert.Contains(_lines.Texts, l => l.Contains("no unit gets a permit, and units that heat are shut down in order after 10 s; look at " + inTheWay, StringComparison.Ordinal));
        Assert.Contains(_lines.Texts, static l => l.StartsWith("the journal can be written again, after ", StringComparison.Ordinal));
        Assert.Contains("\"event\":\"clean-stop\"", File.ReadAllText(Path.Combine(inTheWay, "journal-000001.log")), StringComparison.Ordinal);
    }

    [Fact]
    public void A_held_data_folder_starts_nothing()
    {
        using DataFolderLock? held = DataFolderLock.TryTake(_data);
        Assert.Equal(GuardEnd.AlreadyRunning, Run("stop\n", static _ => throw new InvalidOperationException("no link may be made")));
        Assert.False(Directory.Exists(Path.Combine(_data, "journal")));
    }

    [Fact]
    public void The_ring_is_kept_where_the_site_says_and_in_the_data_folder_otherwise()
    {
        Assert.Equal(GuardEnd.Stopped, Run("scan 1764000000000\n", static _ => new FakeLink()));
        Assert.True(File.Exists(Path.Combine(_data, "ring", "scans.ring")));

        using var copy = new Configuration.TemporarySite(Path.Combine(Site.Folder));
        copy.Replace("site.json", "  \"dataFolder\": \"data\",", "  \"dataFolder\": \"data\",\n  \"ringFolder\": \"memory\",");
        SiteConfiguration elsewhere = SiteLoader.Load(copy.Folder, new SiteLoadOptions { Today = new DateOnly(2026, 3, 1) }).Site!;
        Assert.Equal(Site.SettingsDigest, elsewhere.SettingsDigest); // Nothing that decides about power.
        string data = Path.Combine(_data, "second");
        Assert.Equal(GuardEnd.Stopped, Run("scan 1764000000000\n", static _ => new FakeLink(), data, elsewhere));
        Assert.True(File.Exists(Path.Combine(copy.Folder, "memory", "scans.ring")));
        Assert.False(Directory.Exists(Path.Combine(data, "ring")));
    }

    [Fact]
    public void A_data_folder_that_cannot_be_made_is_unavailable()
    {
        string file = Path.Combine(_data, "file");
        File.WriteAllText(file, "");
        Assert.Equal(GuardEnd.Unavailable, Run("stop\n", static _ => new FakeLink(), Path.Combine(file, "data")));
    }

    [Fact]
    public void Simulated_time_is_refused_for_a_link_that_leaves_this_machine()
    {
        GuardPlan plan = GuardPlanBuilder.Build(Site) with { DataFolder = Path.Combine(_data, "far") };
        plan = plan with { Links = [plan.Links[0], plan.Links[1] with { Host = "192.0.2.7" }] }; // RFC 5737: for documentation
        using Serilog.Core.Logger log = new LoggerConfiguration().CreateLogger();
        GuardEnd end = GuardHost.Run(plan, new GuardOptions
        {
            Version = "test",
            Log = log,
            Conductor = ConductedConsole.Open(new StringReader("stop\n"), TextWriter.Null),
            LinkFactory = static _ => throw new InvalidOperationException("no link may be made"),
        });
        Assert.Equal(GuardEnd.Unavailable, end);
        Assert.False(Directory.Exists(plan.DataFolder));
    }

    private static FakeLink Add(List<FakeLink> links, LinkPlan plan)
    {
        Assert.NotEmpty(plan.Table.Polls);
        var link = new FakeLink();
        links.Add(link);
        return link;
    }

    private static void WritePoint(GuardPlan plan, CommandRole role, ushort address, double scale)
    {
        var point = plan.Links[0].Table.Writes.Single(w => w.Unit == 0 && w.Role == role);
        Assert.Equal((address, ModbusTable.HoldingRegisters, (byte)1, scale), (point.Address, point.Table, point.UnitId, point.Scale));
    }

    private GuardEnd Run(string commands, Func<LinkPlan, IModbusLink> links, string? data = null, SiteConfiguration? site = null, int patientMs = 0) =>
        Run(ConductedConsole.Open(new StringReader(commands), new StringWriter()), links, data, site, patientMs);

    private GuardEnd Run(ConductedConsole conductor, Func<LinkPlan, IModbusLink> links, string? data = null, SiteConfiguration? site = null, int patientMs = 0)
    {
        using var log = new LoggerConfiguration().WriteTo.Sink(_lines).CreateLogger();
        GuardPlan plan = GuardPlanBuilder.Build(site ?? Site) with { DataFolder = data ?? _data };
        if (patientMs > 0)
        {
            plan = plan with { Links = [.. plan.Links.Select(l => l with { Table = l.Table with { TimeoutMs = patientMs, ConnectTimeoutMs = patientMs } })] };
        }

        return GuardHost.Run(plan, new GuardOptions
        {
            Version = "test",
            Log = log,
            Conductor = conductor,
            LinkFactory = links,
        });
    }
}
