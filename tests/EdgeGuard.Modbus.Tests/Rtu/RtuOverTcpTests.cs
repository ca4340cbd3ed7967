using EdgeGuard.Modbus.Client;
using EdgeGuard.Modbus.Tests.Transports;
using EdgeGuard.Modbus.Transports;

namespace EdgeGuard.Modbus.Tests.Rtu;

public sealed class RtuOverTcpTests : IDisposable
{
    private const int TimeoutMs = 1000;
    private readonly LoopbackServer _loopback = new(new TcpModbusServerOptions { IsRtuOverTcp = true });

    public void Dispose() => _loopback.Dispose();

    [Fact]
    public void Frames_of_RTU_travel_in_a_TCP_connection()
    {
        using RtuOverTcpModbusLink link = Connect();
        ushort[] words = new ushort[125];
        Assert.True(link.WriteRegisters(1, 3, [7, 8], TimeoutMs).IsGood);
        Assert.True(link.ReadRegisters(1, ModbusTable.HoldingRegisters, 3, words, TimeoutMs).IsGood);
        Assert.Equal((7, 8), (words[0], words[1]));
        Assert.Equal(
            new ModbusResult(ModbusOutcome.DeviceException, ModbusExceptionCode.IllegalDataAddress),
            link.ReadRegisters(1, ModbusTable.HoldingRegisters, 65_535, words.AsSpan(0, 2), TimeoutMs));
    }

    [Fact]
    public void A_connection_on_which_nobody_answers_any_more_is_closed_as_half_open()
    {
        using RtuOverTcpModbusLink link = Connect(new RtuLinkOptions { SilentRequestsMax = 2, LateAnswerGuardMs = 1 });
        _loopback.Server.Silent = true;
        Assert.Equal(ModbusOutcome.Timeout, link.WriteCoil(1, 0, true, 30).Outcome);
        Assert.True(link.IsConnected);
        Assert.Equal(ModbusOutcome.Timeout, link.WriteCoil(1, 0, true, 30).Outcome);
        Assert.False(link.IsConnected);

        _loopback.Server.Silent = false;
        link.Connect(TimeoutMs);
        Assert.True(link.WriteCoil(1, 0, true, TimeoutMs).IsGood);
        Assert.Equal("Requests 3, Answers 1, Timeouts 2, Openings 2, SilentClosings 1", link.Counters.ToString());
    }

    [Fact]
    public void One_silent_unit_does_not_close_the_connection_of_the_others()
    {
        using RtuOverTcpModbusLink link = Connect(new RtuLinkOptions { SilentRequestsMax = 2, LateAnswerGuardMs = 1 });
        for (int i = 0; i < 4; i++)
        {
            Assert.Equal(ModbusOutcome.Timeout, link.WriteCoil(9, 0, true, 30).Outcome);
            Assert.True(link.WriteCoil(1, 0, true, TimeoutMs).IsGood);
        }

        Assert.True(link.IsConnected);
    }

    [Fact]
    public void A_peer_that_closes_is_a_lost_connection()
    {
        using RtuOverTcpModbusLink link = Connect();
        _loopback.Server.Stop();
        Assert.Equal(ModbusOutcome.ConnectionLost, link.WriteCoil(1, 0, true, TimeoutMs).Outcome);
        Assert.Equal(LinkOpenFault.Refused, Assert.Throws<LinkOpenException>(() => link.Connect(TimeoutMs)).Fault);
    }

    [Fact]
    public void A_connected_link_allocates_nothing()
    {
        using RtuOverTcpModbusLink link = Connect();
        ushort[] words = new ushort[12];
        Assert.True(Run(link, words, 200));
        long before = GC.GetAllocatedBytesForCurrentThread();
        bool isGood = Run(link, words, 2_000);
        long allocated = GC.GetAllocatedBytesForCurrentThread() - before;
        Assert.True(isGood);
        Assert.Equal(0, allocated);
    }

    private static bool Run(RtuOverTcpModbusLink link, ushort[] words, int count)
    {
        bool isGood = true;
        for (int i = 0; i < count; i++)
        {
            isGood &= link.ReadRegisters(1, ModbusTable.HoldingRegisters, 0, words, TimeoutMs).IsGood;
        }

        return isGood;
    }

    private RtuOverTcpModbusLink Connect(RtuLinkOptions? options = null)
    {
        RtuOverTcpModbusLink link = new(_loopback.EndPoint, options);
        link.Connect(TimeoutMs);
        return link;
    }
}
