using System.Text;
using EdgeGuard.Core.Signals;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Service.Configuration;
using EdgeGuard.Service.Guarding;
using EdgeGuard.Service.Probing;
using EdgeGuard.Service.Tests.Configuration;
using EdgeGuard.Service.Tests.FieldIo;

namespace EdgeGuard.Service.Tests.Probing;

/// <summary>From the map's settings over a snapshot to what the guard compares, and the faults on the way.</summary>
public sealed class SettingsSnapshotTests : IDisposable
{
    private const string Rows = "input-type,setting,holding,20,u16,,,1,0,,,,,r,\nrange,setting,holding,30,f32,ABCD,,1,0,degC,,,,r,\nmodel,setting,holding,40,text2,,,1,0,,,,,r,\nbreak-detection,setting,holding,50,bits,,4..5,1,0,,,,,r,\n";

    private readonly TemporarySite _site = new(SiteFolders.Minimal);
    private readonly FakeLink _link = new();

    public SettingsSnapshotTests()
    {
        _site.Write("cabinet.csv", Encoding.UTF8.GetBytes(_site.Read("cabinet.csv") + "\n" + Rows));
        ushort[] words = [3];
        words.CopyTo(_link.Registers, 20);
        ushort[] range = [0x4489, 0x8000];
        range.CopyTo(_link.Registers, 30);
        ushort[] model = [0x4E31, 0x2043];
        model.CopyTo(_link.Registers, 40);
        _link.Registers[50] = 0x8021; // Only bits 4 and 5 are the setting.
    }

    public void Dispose() => _site.Dispose();

    [Fact]
    public void A_snapshot_is_taken_written_loaded_and_compared_by_the_guard()
    {
        SettingsSnapshot snapshot = Take();
        var text = new StringWriter { NewLine = "\n" };
        snapshot.Write("n1-controller", new DateTime(2026, 1, 5, 6, 0, 0, DateTimeKind.Utc), text);
        Assert.Equal("# Settings of n1-controller as they were on 2026-01-05T06:00:00Z. The guard compares the registers at each connect.\nname,registers,reading\ninput-type,0003,3\nrange,4489 8000,1100 degC\nmodel,4E31 2043,N1.C\nbreak-detection,0020,2\n", text.ToString());

        SiteConfiguration site = Load(text.ToString());
        DeviceOptions device = site.Devices[0];
        Assert.Equal(site.Blocks.Count, device.SettingsBlock);
        Assert.Equal(1, site.Table.BlockWordCounts[^1]);
        Assert.Contains(site.Table.Units[0].Signals, s => s.Role == SignalRole.ControllerSettings && s.Block == device.SettingsBlock);
        GuardPlan plan = GuardPlanBuilder.Build(site);
        Assert.Equal(["input-type", "range", "model", "break-detection"], plan.Links[0].Table.Settings.Single().Points.Select(p => p.Name));
        Assert.Empty(Take(device).Differences());
        _link.Registers[50] = 0x102E;
        Assert.Empty(Take(device).Differences());
        _link.Registers[20] = 5;
        Assert.Equal(["input-type is 5, was 3"], Take(device).Differences());
    }

    [Fact]
    public void The_snapshot_decides_so_it_is_in_the_digest_of_the_settings()
    {
        string first = Load("input-type,0003,3\nrange,4489 8000,x\nmodel,4E31 2043,x\nbreak-detection,0020,x\n").SettingsDigest;
        string second = Load("input-type,0004,3\nrange,4489 8000,x\nmodel,4E31 2043,x\nbreak-detection,0020,x\n").SettingsDigest;
        string third = Load("input-type,0003,other words for people\nrange,4489 8000,x\nmodel,4E31 2043,x\nbreak-detection,0020,x\n").SettingsDigest;
        Assert.NotEqual(first, second);
        Assert.Equal(first, third);
    }

    [Theory]
    [InlineData("input-type,0003,3\nrange,4489 8000,\nbreak-detection,0020,\n", "the snapshot lacks the setting \"model\"")]
    [InlineData("input-type,3,3\nrange,4489 8000,\nmodel,4E31 2043,\nbreak-detection,0020,\n", "a line of the snapshot cannot be used")]
    [InlineData("input-type,0003,3\nrange,4489,\nmodel,4E31 2043,\nbreak-detection,0020,\n", "a line of the snapshot cannot be used")]
    [InlineData("input-type,0003,3\ninput-type,0003,3\nrange,4489 8000,\nmodel,4E31 2043,\nbreak-detection,0020,\n", "a line of the snapshot cannot be used")]
    [InlineData("input-type,0003,3\nfilter,0003,3\nrange,4489 8000,\nmodel,4E31 2043,\nbreak-detection,0020,\n", "the snapshot names a setting that the map lacks")]
    public void A_snapshot_that_does_not_fit_the_map_is_a_fault(string text, string what)
    {
        SiteLoadResult result = TryLoad(text);
        Assert.Null(result.Site);
        Assert.Contains(result.Faults, f => f.What == what);
        Assert.NotNull(SiteLoader.Load(_site.Folder, new SiteLoadOptions { WithoutSettings = true }).Site);
    }

    [Fact]
    public void A_snapshot_that_is_not_there_says_how_to_take_one()
    {
        _site.Replace("site.json", "\"map\": \"cabinet.csv\"", "\"map\": \"cabinet.csv\", \"settings\": \"n1-settings.csv\"");
        SiteFault fault = Assert.Single(SiteLoader.Load(_site.Folder).Faults);
        Assert.Contains("the snapshot cannot be read: no such file", fault.What, StringComparison.Ordinal);
        Assert.Contains("edgeguard probe --site FOLDER --device n1-controller --snapshot n1-settings.csv", fault.Try, StringComparison.Ordinal);
    }

    [Fact]
    public void A_setting_that_is_refused_stands_among_the_failed()
    {
        _link.Fault = l => l == "read 1:30+2" ? new ModbusResult(ModbusOutcome.DeviceException, EdgeGuard.Modbus.ModbusExceptionCode.IllegalDataAddress) : null;
        SettingsSnapshot snapshot = Take();
        Assert.Equal(["range"], snapshot.Failed.Select(f => f.Point.Name));
        Assert.Equal(3, snapshot.Read.Count);
    }

    private SettingsSnapshot Take(DeviceOptions? device = null)
    {
        SiteConfiguration site = SiteLoader.Load(_site.Folder, new SiteLoadOptions { WithoutSettings = true }).Site!;
        return SettingsSnapshot.Take(_link, device ?? site.Devices[0], site.Links[0], static () => { });
    }

    private SiteConfiguration Load(string snapshot)
    {
        SiteLoadResult result = TryLoad(snapshot);
        Assert.Equal(string.Empty, string.Join('\n', result.Faults));
        return result.Site!;
    }

    private SiteLoadResult TryLoad(string snapshot)
    {
        if (!_site.Read("site.json").Contains("settings", StringComparison.Ordinal))
        {
            _site.Replace("site.json", "\"map\": \"cabinet.csv\"", "\"map\": \"cabinet.csv\", \"settings\": \"n1-settings.csv\"");
        }

        _site.Write("n1-settings.csv", Encoding.UTF8.GetBytes(snapshot));
        return SiteLoader.Load(_site.Folder);
    }
}
