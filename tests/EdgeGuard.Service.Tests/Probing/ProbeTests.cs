using EdgeGuard.Core.Signals;
using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Service.Configuration;
using EdgeGuard.Service.Configuration.Maps;
using EdgeGuard.Service.Probing;
using EdgeGuard.Service.Tests.Configuration;
using EdgeGuard.Service.Tests.FieldIo;

namespace EdgeGuard.Service.Tests.Probing;

/// <summary>What `edgeguard probe` reads, how politely, and what it makes of it.</summary>
public sealed class ProbeTests
{
    private readonly FakeLink _link = new();
    private readonly List<double> _pausesMs = [];

    [Fact]
    public void Only_the_range_is_read_in_small_requests_with_a_pause_between_them()
    {
        ProbeFindings findings = Probe(Options(10, 20) with { Chunk = 8, Rounds = 2, RequestsPerSecond = 4 });
        Assert.Equal(["connect", "read 7:10+8", "read 7:18+8", "read 7:26+4", "read 7:10+8", "read 7:18+8", "read 7:26+4"], _link.Log);
        Assert.Equal([250, 250, 250, 250, 250], _pausesMs);
        Assert.Equal((6, 0, 20), (findings.Requests, findings.Silent, findings.Sheet.Known));
    }

    [Fact]
    public void A_refused_request_is_taken_apart_and_its_holes_are_not_asked_again()
    {
        _link.Fault = l => l is "read 7:0+4" or "read 7:2+1" ? new ModbusResult(ModbusOutcome.DeviceException, ModbusExceptionCode.IllegalDataAddress) : null;
        ProbeFindings findings = Probe(Options(0, 4) with { Rounds = 2 });
        Assert.Equal(["connect", "read 7:0+4", "read 7:0+1", "read 7:1+1", "read 7:2+1", "read 7:3+1", "read 7:0+1", "read 7:1+1", "read 7:3+1"], _link.Log);
        Assert.Equal([2], findings.Refused.Keys);
        Assert.Equal(3, findings.Sheet.Known);
        Assert.False(findings.Sheet.TryGet(2, out _));
    }

    [Fact]
    public void A_silent_device_is_left_in_peace_after_three_requests()
    {
        _link.Fault = static _ => new ModbusResult(ModbusOutcome.Timeout);
        ProbeFindings findings = Probe(Options(0, 64) with { Chunk = 1, Rounds = 5 });
        Assert.Equal((3, 3, 0), (findings.Requests, findings.Silent, findings.Sheet.Known));
        Assert.Equal(ModbusOutcome.Timeout, findings.LastFailure);
        var text = new StringWriter();
        ProbeText.WriteTimes(findings, text);
        Assert.Contains("is the unit id right", text.ToString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(ModbusExceptionCode.GatewayPathUnavailable)]
    [InlineData(ModbusExceptionCode.GatewayTargetFailedToRespond)]
    public void A_device_that_a_gateway_does_not_reach_is_left_in_peace_too_and_not_asked_register_by_register(ModbusExceptionCode code)
    {
        _link.Fault = _ => new ModbusResult(ModbusOutcome.DeviceException, code);
        ProbeFindings findings = Probe(Options(0, 64) with { Rounds = 5 });
        Assert.Equal((3, 0), (findings.Requests, findings.Sheet.Known));
        var text = new StringWriter();
        ProbeText.WriteRefused(findings, text);
        Assert.Contains("a gateway says that nobody answers behind it", text.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void One_answer_that_a_gateway_missed_takes_no_register_out_of_the_next_round()
    {
        int asked = 0;
        _link.Fault = _ => ++asked == 1 ? new ModbusResult(ModbusOutcome.DeviceException, ModbusExceptionCode.GatewayTargetFailedToRespond) : null;
        ProbeFindings findings = Probe(Options(0, 4) with { Rounds = 2 });
        Assert.Equal(["connect", "read 7:0+4", "read 7:0+4"], _link.Log);
        Assert.Equal((4, 0), (findings.Sheet.Known, findings.Refused.Count));
    }

    [Fact]
    public void Round_trips_give_median_quantile_and_jitter()
    {
        ProbeFindings findings = Probe(Options(0, 1) with { Rounds = 5 }, 10, 12, 30, 11, 13);
        Assert.Equal([10, 12, 30, 11, 13], findings.RoundTripsMs);
        Assert.Equal((12.0, 30.0, 10.0), (findings.MedianMs, findings.Quantile(0.9), findings.Quantile(0)));
        Assert.Equal((2 + 18 + 19 + 2) / 4.0, findings.JitterMs, 9);
    }

    [Theory]
    [InlineData(21.5, 0.05, 0, WordType.Float32, WordOrder.Cdab, 1)]
    [InlineData(21.5, 0.05, 2, WordType.UInt16, WordOrder.None, 0.1)]
    [InlineData(-2, 0, 3, WordType.Int16, WordOrder.None, 1)]
    [InlineData(1_234, 0, 4, WordType.Bcd16, WordOrder.None, 1)]
    [InlineData(70_000, 0, 5, WordType.UInt32, WordOrder.Cdab, 1)]
    [InlineData(3.141592653589793, 1e-12, 8, WordType.Float64, WordOrder.Abcd, 1)]
    public void A_known_value_finds_its_register_type_order_and_scale(double value, double within, int address, WordType type, WordOrder order, double scale)
    {
        FillDevice();
        IReadOnlyList<Interpretation> matches = RegisterInterpreter.Matches(Probe(Options(0, 16)).Sheet, value, within);
        Assert.Contains(matches, m => m.Address == address && m.Type == type && m.Order == order && m.Scale == scale && Math.Abs(m.Value - value) <= within + 1e-12);
    }

    [Fact]
    public void What_does_not_fit_is_no_match()
    {
        FillDevice();
        Assert.Empty(RegisterInterpreter.Matches(Probe(Options(0, 16)).Sheet, 777, 0.5));
    }

    [Fact]
    public void The_tables_show_every_reading_side_by_side_as_the_golden_file_has_them()
    {
        FillDevice();
        int reads = 0;
        _link.Fault = l =>
        {
            _link.Registers[7] = (ushort)reads++; // a counter
            return l.EndsWith("+16", StringComparison.Ordinal) || l is "read 7:13+1" or "read 7:14+1" ? new ModbusResult(ModbusOutcome.DeviceException, ModbusExceptionCode.IllegalDataAddress) : null;
        };
        var text = new StringWriter { NewLine = "\n" };
        ProbeFindings findings = Probe(Options(0, 16) with { Rounds = 2 }, 4, 5, 6);
        ProbeText.WriteTimes(findings, text);
        ProbeText.Write(findings, new ProbeExpectation(21.5, 0.3), text);
        CheckGolden("probe.txt", text.ToString());
    }

    [Fact]
    public void The_draft_map_is_as_the_golden_file_has_it_and_loads_without_a_fault()
    {
        FillDevice();
        var text = new StringWriter { NewLine = "\n" };
        MapDraft.Write(Probe(Options(0, 16)), "192.0.2.1 port 502, unit id 7", new ProbeExpectation(21.5, 0.3), text);
        CheckGolden("map.csv", text.ToString());
        var faults = new FaultList();
        RegisterMap map = RegisterMapReader.Read("map.csv", System.Text.Encoding.UTF8.GetBytes(text.ToString()), faults);
        Assert.Equal(string.Empty, string.Join('\n', faults.Sorted()));
        Assert.Equal(16, map.Points.Sum(p => p.WordCount));
    }

    [Fact]
    public void A_draft_of_registers_that_look_like_traditional_numbers_loads_too()
    {
        var sheet = new RegisterSheet(ModbusTable.HoldingRegisters, 40_001, 1);
        sheet.Put(40_001, 5);
        var text = new StringWriter();
        MapDraft.Write(new ProbeFindings(sheet), "here", null, text);
        Assert.Contains("holding-40001,record,holding,0x9C41,u16", text.ToString(), StringComparison.Ordinal);
        var faults = new FaultList();
        RegisterMapReader.Read("map.csv", System.Text.Encoding.UTF8.GetBytes(text.ToString()), faults);
        Assert.Equal(0, faults.Count);
    }

    private static void CheckGolden(string name, string actual)
    {
        string file = Path.Combine(SiteFolders.Root, "tests", "EdgeGuard.Service.Tests", "Probing", "golden", name);
        if (string.Equals(Environment.GetEnvironmentVariable("EDGEGUARD_GOLDEN"), "write", StringComparison.Ordinal))
        {
            File.WriteAllText(file, actual);
        }

        Assert.Equal(File.ReadAllText(file), actual);
    }

    /// <summary>An invented device that sends the low word first.</summary>
    private void FillDevice()
    {
        ushort[] words = [0x0000, 0x41AC, 215, 0xFFFE, 0x1234, 0x1170, 0x0001, 0, 0x4009, 0x21FB, 0x5444, 0x2D18, 0x4845, 0, 0, 0x0002];
        words.CopyTo(_link.Registers, 0);
    }

    private ProbeFindings Probe(ProbeOptions options, params double[] roundTripsMs) =>
        new RegisterProbe(_link, options, new TickingTime(roundTripsMs.Length > 0 ? roundTripsMs : [1]), p => _pausesMs.Add(p.TotalMilliseconds)).Run();

    private static ProbeOptions Options(int first, int count) =>
        new() { UnitId = 7, Table = ModbusTable.HoldingRegisters, First = first, Count = count, Rounds = 1 };
}
