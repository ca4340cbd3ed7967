using System.Net;
using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Modbus.Transports;
using EdgeGuard.VirtualPlant.Cabinets;
using EdgeGuard.VirtualPlant.Faults;
using EdgeGuard.VirtualPlant.Process;
using EdgeGuard.VirtualPlant.Profiles;

namespace EdgeGuard.VirtualPlant.Tests.Process;

/// <summary>The register map over a real socket: addresses, word orders, exceptions, and the two ways a link fails.</summary>
public sealed class WireTests : IDisposable
{
    private const int TimeoutMs = 30_000; // for what comes by itself

    private readonly Cabinet _cabinet = new(PlantProfiles.N1);

    private readonly UnitEndpoint _endpoint;

    private readonly TcpModbusLink _link;

    public WireTests()
    {
        _endpoint = new UnitEndpoint(_cabinet, 0);
        _link = new TcpModbusLink(new IPEndPoint(IPAddress.Loopback, _endpoint.Port));
        _link.Connect(TimeoutMs);
    }

    public void Dispose()
    {
        _link.Dispose();
        _endpoint.Dispose();
    }

    [Fact]
    public void The_three_poll_blocks_can_be_read_whole_and_one_register_more_cannot()
    {
        foreach ((byte unit, ModbusTable table, int count) in new[] { ((byte)1, ModbusTable.HoldingRegisters, 10), ((byte)1, ModbusTable.InputRegisters, 26), ((byte)2, ModbusTable.InputRegisters, 5) })
        {
            Assert.True(_link.ReadRegisters(unit, table, 0, new ushort[count], TimeoutMs).IsGood);
            Assert.Equal(ModbusExceptionCode.IllegalDataAddress, _link.ReadRegisters(unit, table, 1, new ushort[count], TimeoutMs).Exception);
        }
    }

    [Fact]
    public void Floats_of_the_controller_are_high_word_first_and_those_of_the_meter_low_word_first()
    {
        _cabinet.TurnKey(KeyPosition.Local);
        Advance(20_000);
        ushort[] input = new ushort[12];
        Assert.True(_link.ReadRegisters(1, ModbusTable.InputRegisters, 0, input, TimeoutMs).IsGood);
        // IEEE 754: 40.0 is 4220 0000.
        Assert.Equal([0x4220, 0x0000], input[4..6]);
        ushort[] meter = new ushort[5];
        Assert.True(_link.ReadRegisters(2, ModbusTable.InputRegisters, 0, meter, TimeoutMs).IsGood);
        Assert.Equal([0x0000, 0x4220], meter[2..4]);
        float flow = BitConverter.Int32BitsToSingle((meter[1] << 16) | meter[0]);
        Assert.InRange(flow, 150, 180);
        Assert.Equal(0, meter[4]);
    }

    [Fact]
    public void Currents_voltages_and_leakage_follow_the_status_word()
    {
        Assert.True(_link.WriteRegisters(1, 0, [1, 1, 1, 1, 1000], TimeoutMs).IsGood);
        Advance(1500);
        ushort[] words = new ushort[14];
        Assert.True(_link.ReadRegisters(1, ModbusTable.InputRegisters, 12, words, TimeoutMs).IsGood);
        // 36 kW at 400 V: 51.96 A (P/(√3 U)) in each line, 230.94 V to neutral, and 0.1 mA per kW of the profile.
        Assert.All(Enumerable.Range(0, 3), phase => Assert.Equal(51.96f, High(words, 2 * phase), 0.01f));
        Assert.All(Enumerable.Range(3, 3), phase => Assert.Equal(230.94f, High(words, 2 * phase), 0.01f));
        Assert.Equal(3.6f, High(words, 12), 0.001f);
    }

    [Fact]
    public void Written_registers_read_back_and_give_power()
    {
        Assert.True(_link.WriteRegisters(1, 0, [1, 1, 1, 1, 250], TimeoutMs).IsGood);
        // 123.5 is 42F7 0000.
        Assert.True(_link.WriteRegisters(1, 5, [0x42F7, 0x0000], TimeoutMs).IsGood);
        Assert.True(_link.WriteRegister(1, 7, 800, TimeoutMs).IsGood);
        Advance(500);
        ushort[] holding = new ushort[9];
        Assert.True(_link.ReadRegisters(1, ModbusTable.HoldingRegisters, 0, holding, TimeoutMs).IsGood);
        Assert.Equal([1, 1, 1, 1, 250, 0x42F7, 0, 800, 2000], holding);
        ushort[] input = new ushort[12];
        Assert.True(_link.ReadRegisters(1, ModbusTable.InputRegisters, 0, input, TimeoutMs).IsGood);
        // A quarter of 36 kW: 9.0 is 4110 0000; the output stands at 25.0 %.
        Assert.Equal([0x4110, 0x0000, 250], input[6..9]);
        // SUPERVISED, chain closed, contactor closed, watchdog alive, firing.
        Assert.Equal(0b001_1111, input[11]);
    }

    [Fact]
    public void Wrong_writes_are_refused_whole()
    {
        Assert.Equal(ModbusExceptionCode.IllegalDataAddress, _link.WriteRegister(1, 8, 5000, TimeoutMs).Exception);
        Assert.Equal(ModbusExceptionCode.IllegalDataAddress, _link.WriteRegisters(1, 7, [100, 5000], TimeoutMs).Exception);
        Assert.Equal(ModbusExceptionCode.IllegalDataAddress, _link.WriteRegister(2, 0, 1, TimeoutMs).Exception);
        Assert.Equal(ModbusExceptionCode.IllegalDataValue, _link.WriteRegister(1, 1, 2, TimeoutMs).Exception);
        Assert.Equal(ModbusExceptionCode.IllegalDataValue, _link.WriteRegisters(1, 0, [7, 1, 1, 0, 1001], TimeoutMs).Exception);
        // NaN, −1 and 701 °C.
        Assert.Equal(ModbusExceptionCode.IllegalDataValue, _link.WriteRegisters(1, 5, [0x7FC0, 0], TimeoutMs).Exception);
        Assert.Equal(ModbusExceptionCode.IllegalDataValue, _link.WriteRegisters(1, 5, [0xBF80, 0], TimeoutMs).Exception);
        Assert.Equal(ModbusExceptionCode.IllegalDataValue, _link.WriteRegisters(1, 5, [0x442F, 0x4000], TimeoutMs).Exception);
        Assert.Equal(0, _cabinet.Registers.Token);
        Assert.False(_cabinet.Registers.Relay);
        Assert.Equal(20.0, _cabinet.Registers.SetpointC);
    }

    [Fact]
    public void Coils_are_no_function_of_the_cabinet() =>
        Assert.Equal(ModbusExceptionCode.IllegalFunction, _link.WriteCoil(1, 0, true, TimeoutMs).Exception);

    [Fact]
    public void A_dropped_link_closes_and_refuses_until_it_is_cleared()
    {
        Set(FaultKind.LinkDrop);
        Assert.False(_link.ReadRegisters(1, ModbusTable.InputRegisters, 0, new ushort[2], TimeoutMs).IsGood);
        using var second = new TcpModbusLink(new IPEndPoint(IPAddress.Loopback, _endpoint.Port));
        Assert.Throws<LinkOpenException>(() => second.Connect(500));
        Clear(FaultKind.LinkDrop);
        second.Connect(TimeoutMs);
        Assert.True(second.ReadRegisters(1, ModbusTable.InputRegisters, 0, new ushort[2], TimeoutMs).IsGood);
    }

    [Fact]
    public void A_silent_link_takes_the_request_and_answers_nothing_and_does_nothing()
    {
        Set(FaultKind.LinkSilent);
        Assert.Equal(ModbusOutcome.Timeout, _link.WriteRegister(1, 1, 1, 200).Outcome);
        Assert.False(_cabinet.Registers.Relay);
        Clear(FaultKind.LinkSilent);
        using var second = new TcpModbusLink(new IPEndPoint(IPAddress.Loopback, _endpoint.Port));
        second.Connect(TimeoutMs);
        Assert.True(second.WriteRegister(1, 1, 1, TimeoutMs).IsGood);
    }

    private static float High(ushort[] words, int at) => BitConverter.Int32BitsToSingle((words[at] << 16) | words[at + 1]);

    private void Advance(int milliseconds)
    {
        for (int done = 0; done < milliseconds; done += 5)
        {
            lock (_cabinet.Gate)
            {
                _cabinet.Step(5);
            }
        }
    }

    private void Set(FaultKind kind)
    {
        lock (_cabinet.Gate)
        {
            _cabinet.Faults.Set(kind, 0);
        }

        _endpoint.FollowFaults();
    }

    private void Clear(FaultKind kind)
    {
        lock (_cabinet.Gate)
        {
            _cabinet.Faults.Clear(kind);
        }

        _endpoint.FollowFaults();
    }
}
