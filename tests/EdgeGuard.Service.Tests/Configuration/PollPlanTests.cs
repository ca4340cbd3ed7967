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

    private static IReadOnlyList<PollBlock> MeterBlocks(string rows)
    {
        using var site = new TemporarySite(SiteFolders.Minimal);
        site.Write("meter.csv", Encoding.UTF8.GetBytes(site.Read("meter.csv") + rows));
        SiteLoadResult result = SiteLoader.Load(site.Folder);
        Assert.Equal(string.Empty, string.Join('\n', result.Faults));
        return [.. result.Site!.Blocks.Where(b => b.DeviceUnitId == 2)];
    }
}
