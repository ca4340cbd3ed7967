using EdgeGuard.Modbus.Client;
using EdgeGuard.Modbus.Tests.Transports;
using EdgeGuard.Modbus.Transports;

namespace EdgeGuard.Modbus.Tests.Rtu;

/// <summary>What is RTU over TCP's own; what it shares with a serial line is tested beside that, on a pair of real ports.</summary>
public sealed class RtuOverTcpTests : IDisposable
{
    private const int TimeoutMs = 1000;
    private readonly LoopbackServer _loopback = new(new TcpModbusServerOptions { IsRtuOverTcp = true });

    public void Dispose() => _loopback.Dispose();

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
    public void A_peer_that_closes_is_a_lost_connection()
    {
        using RtuOverTcpModbusLink link = Connect();
        _loopback.Server.Stop();
        Assert.Equal(ModbusOutcome.ConnectionLost, link.WriteCoil(1, 0, true, TimeoutMs).Outcome);
        Assert.Equal(LinkOpenFault.Refused, Assert.Throws<LinkOpenException>(() => link.Connect(TimeoutMs)).Fault);
    }

    private RtuOverTcpModbusLink Connect(RtuLinkOptions? options = null)
    {
        RtuOverTcpModbusLink link = new(_loopback.EndPoint, options);
        link.Connect(TimeoutMs);
        return link;
    }
}
