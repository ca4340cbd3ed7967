using System.Globalization;
using System.Text;
using EdgeGuard.Modbus;
using EdgeGuard.Service.Configuration;

namespace EdgeGuard.Service.Tests.Configuration;

/// <summary>Gap and size limits of poll requests; 125 registers is section 6.3 of the Modbus application protocol.</summary>
public sealed class PollPlanTests
{
    [Theory]
    [InlineData(14, 1, 15)] // 9 is free to 13: a gap of 8 between the last word 5 and 14
    [InlineData(15, 2, 1)] // a gap of 9
    public void A_gap_of_eight_registers_is_read_and_a_gap_of_nine_is_not(int address, int requests, int lastCount)
    {
        IReadOnlyList<PollBlock> blocks = MeterBlocks(string.Create(CultureInfo.InvariantCulture, $"far,record,input,{address - 1},u16,,,1,0,,,,,r,\n"));

        Assert.Equal(requests, blocks.Count);
        Assert.Equal(requests == 1 ? lastCount - 1 : lastCount, blocks[^1].Count);
    }

    [Fact]
    public void A_request_reads_at_most_125_registers_and_splits_no_value()
    {
        var rows = new StringBuilder();
        for (int address = 5; address < 255; address += 2)
        {
            rows.Append(CultureInfo.InvariantCulture, $"p{address},record,input,{address},f32,ABCD,,1,0,,,,,r,\n");
        }

        IReadOnlyList<PollBlock> blocks = MeterBlocks(rows.ToString());

        Assert.Equal([125, 124, 6], blocks.Select(b => b.Count));
        Assert.Equal([0, 125, 249], blocks.Select(b => (int)b.Address));
    }

    [Fact]
    public void A_point_without_role_is_not_polled_and_tables_have_requests_of_their_own()
    {
        IReadOnlyList<PollBlock> blocks = MeterBlocks("idle,,input,200,u16,,,1,0,,,,,r,\nlamp,record,coil,3,bit,,,,,,,,,r,\ndoor,record,discrete,9,bit,,,,,,,,,r,\n");

        Assert.Equal(
            [(ModbusTable.InputRegisters, 5), (ModbusTable.DiscreteInputs, 1), (ModbusTable.Coils, 1)],
            blocks.Select(b => (b.Table, b.Count)));
    }

    [Fact]
    public void A_device_that_gives_fewer_registers_or_has_holes_says_so_and_gets_other_requests()
    {
        const string Rows = "a,record,input,9,u16,,,1,0,,,,,r,\nb,record,input,12,f64,ABCD,,1,0,,,,,r,\n";

        Assert.Equal([(0, 16)], MeterBlocks(Rows).Select(b => ((int)b.Address, b.Count)));
        Assert.Equal([(0, 10), (12, 4)], MeterBlocks(Rows, "\"maxRegisters\": 15").Select(b => ((int)b.Address, b.Count)));
        Assert.Equal([(0, 5), (9, 1), (12, 4)], MeterBlocks(Rows, "\"maxGap\": 0").Select(b => ((int)b.Address, b.Count)));
        PollSpan[] parts = [new(0, 5), new(9, 1), new(12, 4)];
        Assert.Equal(parts, MeterBlocks(Rows)[0].Spans);
    }

    [Fact]
    public void A_slower_point_has_its_own_request_unless_it_lies_inside_one_that_is_read_anyway()
    {
        const string Rows = "inside,record,input,7,u16,,,1,0,,,,,r,,10\nfast,record,input,9,u16,,,1,0,,,,,r,,\nslow,record,input,20,u16,,,1,0,,,,,r,,10\nslower,record,input,22,u16,,,1,0,,,,,r,,600\n";

        IReadOnlyList<PollBlock> blocks = MeterBlocks(Rows, every: true);

        Assert.Equal([(0, 10, 1), (20, 1, 10), (22, 1, 600)], blocks.Select(b => ((int)b.Address, b.Count, b.EveryScans)));
        PollSpan[] parts = [new(0, 5), new(7, 1), new(9, 1)];
        Assert.Equal(parts, blocks[0].Spans);
    }

    [Fact]
    public void The_load_counts_a_slower_request_by_its_share_and_the_worst_scan_in_full()
    {
        const string Row = "slow,record,input,20,u16,,,1,0,,,,,r,,10\n";
        using TemporarySite site = Site(Row, "\"answerDelayMs\": 8", every: true);

        LinkLoad load = SiteLoader.Load(site.Folder).Site!.Loads[0];

        // Two requests of the controller without a stated delay, assumed 5 ms, and two of the meter.
        Assert.Equal(5 + 5 + 8 + (8 / 10.0), load.PollMs, 9);
        Assert.Equal(5 + 5 + 8 + 8, load.WorstPollMs, 9);
        Assert.Equal((8.0, 4, false), (load.LongestMs, load.Requests, load.Stated));
    }

    private static IReadOnlyList<PollBlock> MeterBlocks(string rows, string? device = null, bool every = false)
    {
        using TemporarySite site = Site(rows, device, every);
        SiteLoadResult result = SiteLoader.Load(site.Folder);
        Assert.Equal(string.Empty, string.Join('\n', result.Faults));
        return [.. result.Site!.Blocks.Where(b => b.DeviceUnitId == 2)];
    }

    private static TemporarySite Site(string rows, string? device, bool every)
    {
        var site = new TemporarySite(SiteFolders.Minimal);
        if (device is not null)
        {
            site.Replace("site.json", "\"map\": \"meter.csv\"", "\"map\": \"meter.csv\", " + device);
        }

        if (every)
        {
            site.Write("meter.csv", Encoding.UTF8.GetBytes(string.Join('\n', site.Read("meter.csv").Split('\n').Select(l => l.StartsWith('#') || l.Length == 0 ? l : l + (l.Contains("sentinel", StringComparison.Ordinal) ? ",every" : ",")))));
        }

        site.Write("meter.csv", Encoding.UTF8.GetBytes(site.Read("meter.csv") + rows));
        return site;
    }
}
