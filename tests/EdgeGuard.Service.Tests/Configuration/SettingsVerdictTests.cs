using System.Text;
using EdgeGuard.Core.Signals;
using EdgeGuard.Service.Configuration;
using EdgeGuard.Service.FieldIo;
using EdgeGuard.Service.Guarding;

namespace EdgeGuard.Service.Tests.Configuration;

/// <summary>Which device's settings bind which unit: each from which the unit takes a point, however it is named.</summary>
public sealed class SettingsVerdictTests : IDisposable
{
    private const string Header = "name,role,table,address,type,order,bit,scale,offset,unit,min,max,sentinel,access,volatile\n";
    private const string Setting = "filter,setting,holding,30,u16,,,1,0,,,,,r,\n";
    private const string Probe = Header + "sensor,elementTemperature2,input,0,f32,ABCD,,1,0,degC,-20,1372,9999,r,\n" + Setting;
    private const string Gauge = Header + "inlet,inletTemperature,input,0,f32,ABCD,,1,0,degC,-20,300,9999,r,\n" + Setting;

    private readonly TemporarySite _site = new(SiteFolders.Minimal);

    public SettingsVerdictTests()
    {
        _site.Write("probe.csv", Encoding.UTF8.GetBytes(Probe));
        _site.Write("gauge.csv", Encoding.UTF8.GetBytes(Gauge));
        _site.Write("filter.csv", "filter,0003,3\n"u8.ToArray());
        _site.Write("meter.csv", Encoding.UTF8.GetBytes(_site.Read("meter.csv") + "\n" + Setting));
    }

    public void Dispose() => _site.Dispose();

    [Trait("requirement", "CMDV-7")]
    [Fact]
    public void A_device_that_is_bound_by_its_points_alone_binds_the_unit()
    {
        SiteConfiguration site = Load(probe: true);
        DeviceOptions probe = site.Devices.Single(static d => d.Name == "probe");
        Assert.Equal(probe.SettingsBlock, Verdict(site));
        Assert.Empty(site.Verdicts);
    }

    [Trait("requirement", "CMDV-7")]
    [Fact]
    public void Several_devices_beside_the_controller_are_one_verdict_behind_all_other_blocks()
    {
        SiteConfiguration site = Load(probe: true, gauge: true, meter: true);
        CombinedVerdictTable combined = Assert.Single(site.Verdicts);
        Assert.Equal([.. site.Devices.Where(static d => d.SettingsBlock >= 0).Select(static d => d.SettingsBlock)], combined.Parts);
        Assert.Equal(3, combined.Parts.Count);
        Assert.Equal((combined.Block, site.Table.BlockWordCounts.Count - 1), (Verdict(site), combined.Block));
        GuardPlan plan = GuardPlanBuilder.Build(site);
        Assert.Equal(site.Verdicts, plan.Verdicts);

        // The scan takes the verdict of the two known devices and of the one that was never read.
        using var bus = new FieldBus([.. plan.Links.Select(static l => Worker(l))], plan.Site.BlockWordCounts.Count, 1, plan.Verdicts);
        var scan = new RawScan([.. plan.Site.BlockWordCounts], 1);
        SettingsWatch watch = bus.Workers[0].Engine.Settings;
        watch.Facts[0].PublishGood([1], 0);
        watch.Facts[1].PublishGood([1], 0);
        Assert.Equal(ReadResult.NeverRead, Fill());
        watch.Facts[2].PublishGood([1], 0);
        Assert.Equal(ReadResult.Good, Fill());
        Assert.Equal(1, scan.Blocks[combined.Block].Words[0]);
        watch.Facts[1].PublishGood([0], 0);
        Assert.Equal(ReadResult.Good, Fill());
        Assert.Equal(0, scan.Blocks[combined.Block].Words[0]);

        ReadResult Fill()
        {
            bus.Fill(scan, 0);
            return scan.Blocks[combined.Block].Result;
        }
    }

    [Fact]
    public void Which_devices_bind_a_unit_is_in_the_digest()
    {
        string[] digests = [Load().SettingsDigest, Load(probe: true).SettingsDigest, Load(probe: true, gauge: true).SettingsDigest];
        Assert.Equal(3, digests.Distinct().Count());
        Assert.Contains("settings.verdict.", Load(probe: true, gauge: true).SettingsText, StringComparison.Ordinal);
    }

    [Fact]
    public void A_device_that_is_only_written_to_binds_the_unit_too()
    {
        _site.Write("probe.csv", Encoding.UTF8.GetBytes(Header + "speed,blowerDemand,holding,0,u16,,,0.1,0,%,0,100,,rw,yes\n" + Setting));
        _site.Replace("site.json", "{ \"name\": \"n1-meter\"", "{ \"name\": \"probe\", \"link\": \"n1\", \"unitId\": 7, \"map\": \"probe.csv\", \"settings\": \"filter.csv\" }, { \"name\": \"n1-meter\"");
        _site.Replace("site.json", "\"gas\": \"N2\",", "\"gas\": \"N2\", \"commands\": { \"blowerDemand\": \"probe.speed\" },");
        SiteLoadResult result = SiteLoader.Load(_site.Folder);
        Assert.Equal(string.Empty, string.Join('\n', result.Faults));
        Assert.Equal(result.Site!.Devices.Single(static d => d.Name == "probe").SettingsBlock, Verdict(result.Site));
    }

    private static LinkWorker Worker(LinkPlan link)
    {
        var clock = new MonotonicClock();
        return new LinkWorker(new LinkEngine(link.Table, new FieldIo.SilentLink(), clock), clock, new FieldIo.QuietObserver(), conducted: true);
    }

    private static int Verdict(SiteConfiguration site)
    {
        Assert.DoesNotContain(site.Table.Units[0].Signals, static s => s.Role == SignalRole.ControllerSettings);
        return site.Table.Units[0].Signals.Single(static s => s.Role == SignalRole.MeterSettings).Block;
    }

    /// <summary>The minimal site with further devices, each with a snapshot, bound by "DEVICE.POINT"; unlike its controller.</summary>
    private SiteConfiguration Load(bool probe = false, bool gauge = false, bool meter = false)
    {
        using var site = new TemporarySite(_site.Folder);
        const string Snapshot = "\"settings\": \"filter.csv\"";
        site.Replace("site.json", "\"map\": \"meter.csv\"", "\"map\": \"meter.csv\"" + (meter ? ", " + Snapshot : string.Empty));
        site.Replace("site.json", "{ \"name\": \"n1-meter\"", (probe ? Device("probe", 7) : string.Empty) + (gauge ? Device("gauge", 8) : string.Empty) + "{ \"name\": \"n1-meter\"");
        string signals = string.Join(", ", new[] { probe ? "\"elementTemperature2\": \"probe.sensor\"" : null, gauge ? "\"inletTemperature\": \"gauge.inlet\"" : null }.Where(static s => s is not null));
        site.Replace("site.json", "\"gas\": \"N2\",", $"\"gas\": \"N2\", \"signals\": {{ {signals} }},{(probe ? " \"voting\": { \"element\": \"1oo2\" }," : string.Empty)}");
        SiteLoadResult result = SiteLoader.Load(site.Folder);
        Assert.Equal(string.Empty, string.Join('\n', result.Faults));
        return result.Site!;

        static string Device(string name, int unitId) => $"{{ \"name\": \"{name}\", \"link\": \"n1\", \"unitId\": {unitId}, \"map\": \"{name}.csv\", {Snapshot} }}, ";
    }
}
