using EdgeGuard.Records.Journal;
using System.Net;
using EdgeGuard.Core.Signals;
using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Pdu;
using EdgeGuard.Modbus.Server;
using EdgeGuard.Modbus.Transports;
using EdgeGuard.Records.Ring;
using EdgeGuard.Service.FieldIo;

namespace EdgeGuard.Service.Tests.FieldIo;

/// <summary>
/// Devices that offer one of the two functions for a single value only, on a real socket. That exception 01 means
/// "nothing was carried out" is Application Protocol V1.1b3, section 7.
/// </summary>
public sealed class WriteFunctionTests : IDisposable
{
    private const int Heartbeat = 0;
    private const int Relay = 1;
    private const int Setpoint = 2;
    private const int NeighbourRelay = 3;

    private readonly PickyDevice _device = new();
    private readonly PickyDevice _neighbour = new();
    private readonly TcpModbusServer _server;
    private readonly TcpModbusLink _link;
    private readonly LinkEngine _engine;

    public WriteFunctionTests()
    {
        _server = new TcpModbusServer(new IPEndPoint(IPAddress.Loopback, 0), new Dictionary<byte, IModbusDevice> { [1] = _device, [2] = _neighbour });
        _server.Start();
        _link = new TcpModbusLink(new IPEndPoint(IPAddress.Loopback, _server.Port));
        _engine = Engine(ModbusTable.HoldingRegisters);
        _engine.ConnectAndProve();
        _device.Asked.Clear();
    }

    public void Dispose()
    {
        _link.Dispose();
        _server.Dispose();
    }

    [Trait("requirement", "MODB-7")]
    [Theory]
    [InlineData(ModbusTable.HoldingRegisters, FunctionCode.WriteSingleRegister, FunctionCode.WriteMultipleRegisters, "register 1=0")]
    [InlineData(ModbusTable.Coils, FunctionCode.WriteSingleCoil, FunctionCode.WriteMultipleCoils, "coil 1=False")]
    public void A_removal_that_is_refused_by_its_function_goes_by_the_other_one_at_once_and_the_next_one_directly(ModbusTable table, FunctionCode one, FunctionCode many, string written)
    {
        LinkEngine engine = Engine(table);
        engine.ConnectAndProve();
        _device.Asked.Clear();
        _device.Lacks = f => f == one;
        Remove(engine);
        Assert.Equal(CommandFeedback.Confirmed, engine.Commands[Relay].Feedback);
        Assert.Equal([one, many], _device.Asked);
        Remove(engine);
        Remove(engine);
        Assert.Equal([one, many, many, many], _device.Asked);
        Assert.Equal([written, written, written], _device.Written);
        Assert.Equal((1L, 3L, 1L, 1L), (engine.Counters[LinkFigure.ReplacedFunctions], engine.Counters[LinkFigure.GoodWrites], engine.Counters[LinkFigure.FailedWrites], engine.Counters[LinkFigure.Exceptions]));
        Assert.True(engine.News.TryTake(out ShellEventId id, out string? news));
        Assert.Equal(ShellEventId.FunctionReplaced, id);
        Assert.Equal($"unit id 1 refuses function {(int)one:D2} (exception 01); its single {(table == ModbusTable.Coils ? "coils" : "registers")} are written by function {(int)many} from now on", news);
        Assert.False(engine.News.TryTake(out _, out _));
    }

    [Fact]
    public void What_a_device_takes_outlives_the_connection_and_holds_for_that_device_alone()
    {
        _device.Lacks = static f => f == FunctionCode.WriteSingleRegister;
        Remove(_engine);
        _engine.Fail(failedBlock: -1, ReadResult.NotConnected);
        _engine.ConnectAndProve();
        _device.Asked.Clear();
        Remove(_engine);
        Remove(_engine, NeighbourRelay);
        Assert.Equal([FunctionCode.WriteMultipleRegisters], _device.Asked);
        Assert.Equal([FunctionCode.WriteSingleRegister], _neighbour.Asked);
    }

    [Trait("requirement", "WRIT-2")]
    [Fact]
    public void An_energising_write_that_is_refused_by_its_function_waits_for_its_next_turn_so_that_a_removal_goes_before_it()
    {
        _device.Lacks = f =>
        {
            if (f == FunctionCode.WriteSingleRegister)
            {
                _engine.Commands[Relay].Offer(0, twoWords: false, deEnergising: true);
            }

            return f == FunctionCode.WriteSingleRegister;
        };
        _engine.Commands[Heartbeat].Offer(41, twoWords: false, deEnergising: false);
        Assert.True(_engine.ServeOneEnergising());
        Assert.Equal(CommandFeedback.Outstanding, _engine.Commands[Heartbeat].Feedback);
        Assert.Empty(_device.Written);
        _engine.ServeDeEnergising();
        Assert.True(_engine.ServeOneEnergising());
        Assert.Equal(["register 1=0", "register 0=41"], _device.Written);
        Assert.Equal(CommandFeedback.Confirmed, _engine.Commands[Heartbeat].Feedback);
    }

    [Trait("requirement", "WRIT-3")]
    [Fact]
    public void A_removal_of_the_same_point_takes_the_place_of_the_refused_energising_write()
    {
        _device.Lacks = f =>
        {
            if (f == FunctionCode.WriteSingleRegister)
            {
                _engine.Commands[Relay].Offer(0, twoWords: false, deEnergising: true);
            }

            return f == FunctionCode.WriteSingleRegister;
        };
        _engine.Commands[Relay].Offer(1, twoWords: false, deEnergising: false);
        _engine.ServeOneEnergising();
        _engine.ServeDeEnergising();
        Assert.False(_engine.ServeOneEnergising());
        Assert.Equal(["register 1=0"], _device.Written);
    }

    [Fact]
    public void A_device_that_takes_neither_function_costs_two_requests_a_write_and_the_write_fails()
    {
        _device.Lacks = static f => f is FunctionCode.WriteSingleRegister or FunctionCode.WriteMultipleRegisters;
        for (int i = 1; i <= 3; i++)
        {
            Remove(_engine);
            Assert.Equal(CommandFeedback.Failed, _engine.Commands[Relay].Feedback);
            Assert.Equal(2 * i, _device.Asked.Count);
        }

        _device.Asked.Clear();
        _engine.Commands[Heartbeat].Offer(41, twoWords: false, deEnergising: false);
        while (_engine.ServeOneEnergising())
        {
        }

        Assert.Equal(2, _device.Asked.Count);
        Assert.Equal(CommandFeedback.Failed, _engine.Commands[Heartbeat].Feedback);
        Assert.Equal(0, _engine.Counters[LinkFigure.ReplacedFunctions]);
        Assert.False(_engine.News.TryTake(out _, out _));
        Assert.True(_engine.IsOnline);

        // A device that has its rights again is written to by whichever function it takes.
        _device.Lacks = static f => f == FunctionCode.WriteSingleRegister;
        Remove(_engine);
        Assert.Equal(CommandFeedback.Confirmed, _engine.Commands[Relay].Feedback);
    }

    [Fact]
    public void A_single_register_that_is_refused_by_16_goes_by_06_again()
    {
        FunctionCode lacking = FunctionCode.WriteSingleRegister;
        _device.Lacks = f => f == lacking;
        Remove(_engine);
        lacking = FunctionCode.WriteMultipleRegisters;
        _device.Asked.Clear();
        Remove(_engine);
        Remove(_engine);
        Assert.Equal([FunctionCode.WriteMultipleRegisters, FunctionCode.WriteSingleRegister, FunctionCode.WriteSingleRegister], _device.Asked);
        Assert.Equal(CommandFeedback.Confirmed, _engine.Commands[Relay].Feedback);
        Assert.Equal(1, _engine.Counters[LinkFigure.ReplacedFunctions]);
    }

    [Fact]
    public void Two_registers_and_refused_reads_are_tried_one_way_only()
    {
        _device.Lacks = static f => f is FunctionCode.WriteMultipleRegisters or FunctionCode.ReadHoldingRegisters;
        _engine.Commands[Setpoint].Offer(0x4422_8000, twoWords: true, deEnergising: true);
        _engine.ServeDeEnergising();
        Assert.Equal([FunctionCode.WriteMultipleRegisters], _device.Asked);
        Assert.Equal(CommandFeedback.Failed, _engine.Commands[Setpoint].Feedback);
        _device.Asked.Clear();
        _engine.PollAll();
        Assert.All(_device.Asked, static f => Assert.Equal(FunctionCode.ReadHoldingRegisters, f));
        Assert.Equal(ReadResult.DeviceException, _engine.Blocks[0].Take().Result);
        Assert.Equal(1, _engine.Blocks[0].Take().ExceptionCode);
    }

    [Fact]
    public void Another_exception_turns_nothing()
    {
        var link = new FakeLink();
        var engine = new LinkEngine(FieldTables.Link(), link, new ManualClock());
        engine.ConnectAndProve();
        link.Fault = static l => l.StartsWith("write", StringComparison.Ordinal) ? new(Modbus.Client.ModbusOutcome.DeviceException, ModbusExceptionCode.IllegalDataAddress) : null;
        Remove(engine);
        Assert.Equal(CommandFeedback.Failed, engine.Commands[Relay].Feedback);
        Assert.Single(link.Writes);
    }

    private static void Remove(LinkEngine engine, int command = Relay)
    {
        engine.Commands[command].Offer(0, twoWords: false, deEnergising: true);
        engine.ServeDeEnergising();
    }

    /// <summary>Heartbeat, relay and setpoint of unit id 1, and the relay of unit id 2.</summary>
    private LinkEngine Engine(ModbusTable table)
    {
        LinkTable link = FieldTables.Link() with { TimeoutMs = 5_000, ConnectTimeoutMs = 5_000 };
        WritePointTable[] writes = [.. link.Writes.Take(3).Select(w => w with { Table = w.Type == WordType.UInt16 ? table : w.Table })];
        return new LinkEngine(link with { Writes = [.. writes, writes[Relay] with { Unit = 1, UnitId = 2 }] }, _link, new MonotonicClock());
    }
}
