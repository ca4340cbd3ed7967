using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Modbus;
using EdgeGuard.Service.Configuration;

namespace EdgeGuard.Service.Tests.Configuration;

public sealed class ExampleSiteTests
{
    [Fact]
    public void The_pilot_hall_loads_without_fault()
    {
        SiteConfiguration site = Load(SiteFolders.PilotHall);

        Assert.Equal("pilot-hall", site.Table.Name);
        Assert.Equal(["N-1", "A-1"], site.Table.Units.Select(u => u.Name));
        Assert.All(site.Table.Units, u => Assert.Equal(UnitMode.Enforce, u.Mode));
        Assert.Equal([15020, 15021], site.Links.Select(l => l.Port));
        Assert.Equal(45, site.Table.SupplyLimitKw);
        string[] expected = ["N-1: a sheathed element sensor is no cover for dry fire; FLOW is.", "N-1: OUTL for runaway with gas: in time, more than half of it used, 8 s of 15.87 s, most of it sensor lag 5 s.", "N-1: the alarm of LEAK may be hidden although it is that of a trip.", "A-1: a sheathed element sensor is no cover for dry fire; FLOW is.", "A-1: the alarm of LEAK, BALA may be hidden although it is that of a trip.", "A-1: values of inletTemperature may be forced by a person for up to 15 min."];
        Assert.Equal(expected, site.Notes.Where(n => !n.Contains("more than a year old", StringComparison.Ordinal)));
    }

    [Theory]
    [InlineData("0.5", "found 0.5; expected a whole number from 0 to 60000; try 500, if seconds were meant: the key takes ms")]
    [InlineData("1000.5", "found 1000.5; expected a whole number from 0 to 60000; try 1000")] // 1000 s is no delay of FLOW
    public void A_time_that_was_written_in_seconds_is_not_rounded_to_no_delay(string written, string words)
    {
        using var changed = new TemporarySite(SiteFolders.PilotHall);
        changed.Replace("site.json", "\"afterCoolingKgPerHour\": 45, \"delayMs\": 500", $"\"afterCoolingKgPerHour\": 45, \"delayMs\": {written}");
        Assert.EndsWith(words, Assert.Single(SiteLoader.Load(changed.Folder).Faults).ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Limits_of_the_pilot_hall_reach_the_tables_of_the_core()
    {
        UnitTable n1 = Load(SiteFolders.PilotHall).Table.Units[0];

        Assert.Equal((70, 130, 500, 30_000), (n1.Flow.LimitKgPerHour, n1.Flow.ProvingKgPerHour, n1.Flow.DelayMs, n1.Flow.PreFlowMs));
        Assert.Equal((800, 850), (n1.Elem.AlarmC, n1.Elem.TripC));
        Assert.Equal((680, 720), (n1.Outl.AlarmC, n1.Outl.TripC));
        Assert.Equal((60, 30), (n1.Cool.RampUpKPerMin, n1.Cool.RampDownKPerMin));
        Assert.Equal((36, 650, 2_000), (n1.RatedPowerKw, n1.SetpointC, n1.WatchdogMs));
    }

    [Fact]
    public void Each_cabinet_is_polled_with_three_requests_that_cover_its_whole_map()
    {
        SiteConfiguration site = Load(SiteFolders.PilotHall);

        (int, int, ModbusTable, int, int)[] expected =
        [
            (0, 1, ModbusTable.HoldingRegisters, 0, 10),
            (0, 1, ModbusTable.InputRegisters, 0, 26),
            (0, 2, ModbusTable.InputRegisters, 0, 5),
            (1, 1, ModbusTable.HoldingRegisters, 0, 10),
            (1, 1, ModbusTable.InputRegisters, 0, 26),
            (1, 2, ModbusTable.InputRegisters, 0, 5),
        ];
        Assert.Equal(expected, site.Blocks.Select(b => (b.LinkIndex, (int)b.DeviceUnitId, b.Table, (int)b.Address, b.Count)));
        Assert.Equal([10, 26, 5, 10, 26, 5], site.Table.BlockWordCounts);
    }

    [Fact]
    public void Signals_point_into_their_blocks()
    {
        SiteConfiguration site = Load(SiteFolders.PilotHall);

        Assert.Equal(24, site.Table.Units[0].Signals.Count);
        SignalTable flow = Signal(site, 1, SignalRole.GasFlow);
        Assert.Equal((5, 0, WordType.Float32, WordOrder.Cdab), (flow.Block, flow.WordOffset, flow.Type, flow.Order));
        SignalTable outlet = Signal(site, 0, SignalRole.OutletTemperature);
        Assert.Equal((1, 2, WordOrder.Abcd, 9999), (outlet.Block, outlet.WordOffset, outlet.Order, outlet.Sentinel));
        SignalTable chain = Signal(site, 0, SignalRole.ChainHealthy);
        Assert.Equal((1, 11, WordType.Bit, 1), (chain.Block, chain.WordOffset, chain.Type, chain.Bit));
        Assert.Equal((300, 1_000), (outlet.StaleMs, outlet.HoldMs));
    }

    [Fact]
    public void All_eight_commands_of_a_cabinet_are_bound_with_their_read_back()
    {
        SiteConfiguration site = Load(SiteFolders.PilotHall);

        Assert.Equal(8, site.Table.Units[1].Commands.Count);
        Assert.All(site.Table.Units[1].Commands, c => Assert.NotNull(c.ReadBack));
        CommandPoint setpoint = site.Command(1, CommandRole.Setpoint)!;
        Assert.Equal((1, 1, 5, WordType.Float32), (setpoint.LinkIndex, (int)setpoint.DeviceUnitId, (int)setpoint.Address, setpoint.Type));
        Assert.Equal("a1-controller.remote-setpoint, holding 5 (traditional 40006)", setpoint.Description);
        Assert.Equal(0.1, site.Command(0, CommandRole.BlowerDemand)!.Scale);
    }

    [Fact]
    public void The_minimal_site_has_at_most_thirty_lines_and_only_observes()
    {
        Assert.InRange(File.ReadAllLines(Path.Combine(SiteFolders.Minimal, "site.json")).Length, 1, 30);
        SiteConfiguration site = Load(SiteFolders.Minimal);

        UnitTable unit = Assert.Single(site.Table.Units);
        Assert.Equal(UnitMode.Observe, unit.Mode);
        Assert.Equal((800, 690), (unit.Elem.AlarmC, unit.Outl.AlarmC));
        Assert.Contains(site.Notes, n => n.Contains("protects nothing", StringComparison.Ordinal));
    }

    [Fact]
    public void A_command_that_is_not_read_back_is_told()
    {
        using var site = new TemporarySite(SiteFolders.PilotHall);
        site.Replace("cabinet.csv", "output-limit,      outputLimit,  ", "output-limit,      ,");
        site.Replace("site.json", "\"controller\": \"n1-controller\",", "\"controller\": \"n1-controller\", \"commands\": { \"outputLimit\": \"n1-controller.output-limit\" },");

        Assert.Contains("N-1: the command \"outputLimit\" is not read back: nothing shows whether it has arrived.", Load(site.Folder).Notes);
        Assert.DoesNotContain(Load(SiteFolders.PilotHall).Notes, n => n.Contains("read back", StringComparison.Ordinal));
    }

    [Fact]
    public void The_mode_can_be_overridden_but_only_within_the_rules()
    {
        var observe = SiteLoader.Load(SiteFolders.PilotHall, new SiteLoadOptions { Mode = UnitMode.Observe });
        Assert.All(observe.Site!.Table.Units, u => Assert.Equal(UnitMode.Observe, u.Mode));

        var enforce = SiteLoader.Load(SiteFolders.Minimal, new SiteLoadOptions { Mode = UnitMode.Enforce });
        Assert.Null(enforce.Site);
        Assert.Contains("never proof-tested", Assert.Single(enforce.Faults).What, StringComparison.Ordinal);
    }

    private static SiteConfiguration Load(string folder)
    {
        SiteLoadResult result = SiteLoader.Load(folder);
        Assert.Equal(string.Empty, string.Join('\n', result.Faults));
        return result.Site!;
    }

    private static SignalTable Signal(SiteConfiguration site, int unit, SignalRole role) =>
        site.Table.Units[unit].Signals.Single(s => s.Role == role);
}
