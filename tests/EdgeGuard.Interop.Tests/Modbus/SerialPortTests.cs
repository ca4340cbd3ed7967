using EdgeGuard.Modbus.Client;
using EdgeGuard.Modbus.Transports;

namespace EdgeGuard.Interop.Tests.Modbus;

/// <summary>What is the serial transport's own, on real ports of the system (a pair made by socat).</summary>
public sealed class SerialPortTests
{
    private const int TimeoutMs = 60_000;

    [Fact]
    public void A_port_that_another_link_has_is_in_use_and_free_again_afterwards()
    {
        using PtyPair pair = new();
        using SerialModbusLink first = new(new SerialLineOptions { PortName = pair.Ours });
        first.Connect(TimeoutMs);
        using SerialModbusLink second = new(new SerialLineOptions { PortName = pair.Ours });
        LinkOpenException e = Assert.Throws<LinkOpenException>(() => second.Connect(TimeoutMs));
        Assert.Equal(LinkOpenFault.PortInUse, e.Fault);
        first.Close();
        second.Connect(TimeoutMs);
        Assert.True(second.IsConnected);
    }

    [Fact]
    public void An_adapter_that_is_unplugged_is_a_lost_connection()
    {
        using PtyPair pair = new();
        using SerialModbusLink link = new(new SerialLineOptions { PortName = pair.Ours });
        link.Connect(TimeoutMs);
        pair.Unplug();
        Assert.Equal(ModbusOutcome.ConnectionLost, link.WriteRegister(1, 0, 1, TimeoutMs).Outcome);
        Assert.False(link.IsConnected);
        Assert.Equal(LinkOpenFault.PortMissing, Assert.Throws<LinkOpenException>(() => link.Connect(TimeoutMs)).Fault);
    }
}
