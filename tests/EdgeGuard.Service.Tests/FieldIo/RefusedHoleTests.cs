using System.Net;
using EdgeGuard.Core.Signals;
using EdgeGuard.Modbus.Pdu;
using EdgeGuard.Modbus.Server;
using EdgeGuard.Modbus.Transports;
using EdgeGuard.Records.Ring;
using EdgeGuard.Service.Configuration;
using EdgeGuard.Service.FieldIo;

namespace EdgeGuard.Service.Tests.FieldIo;

/// <summary>A device on a real socket that lacks a register inside the gap that a request reads over.</summary>
public sealed class RefusedHoleTests
{
    [Fact]
    public void A_hole_is_refused_once_and_read_around_from_then_on_also_on_the_next_connection()
    {
        var device = new PickyDevice { Holes = [7] };
        using var server = new TcpModbusServer(new IPEndPoint(IPAddress.Loopback, 0), new Dictionary<byte, IModbusDevice> { [1] = device });
        server.Start();
        using var link = new TcpModbusLink(new IPEndPoint(IPAddress.Loopback, server.Port));
        LinkTable table = FieldTables.Link() with { TimeoutMs = 5_000, ConnectTimeoutMs = 5_000 };
        PollRequestTable poll = table.Polls[0] with { Address = 2, Count = 10, Spans = [new PollSpan(0, 3), new PollSpan(8, 2)] };
        var engine = new LinkEngine(table with { Polls = [poll] }, link, new MonotonicClock());

        engine.ConnectAndProve();
        Assert.Equal(3, device.Asked.Count); // over the gap, then the two used parts
        engine.PollAll();
        engine.Fail(failedBlock: -1, ReadResult.NotConnected);
        engine.ConnectAndProve();
        Assert.Equal(7, device.Asked.Count);
        Assert.All(device.Asked, static f => Assert.Equal(FunctionCode.ReadHoldingRegisters, f));
        BlockReading reading = engine.Blocks[0].Take();
        Assert.Equal(ReadResult.Good, reading.Result);
        Assert.Equal([1002, 1003, 1004, 0, 0, 0, 0, 0, 1010, 1011], reading.Words);
        Assert.Equal(1, engine.Counters[LinkFigure.SplitRequests]);
        Assert.Equal(1, server.Counters.Refused);
    }
}
