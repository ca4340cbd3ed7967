using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Modbus.Server;
using EdgeGuard.Modbus.Transports;

namespace EdgeGuard.Interop.Tests.Modbus;

/// <summary>The serial transport on real ports of the system (a pair made by socat).</summary>
public sealed class SerialPortTests
{
    private const int TimeoutMs = 2000;

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

    [Fact]
    public void Several_units_share_a_line_and_a_broadcast_reaches_them_all()
    {
        using PtyPair pair = new();
        PeerDevice one = new();
        PeerDevice two = new();
        using SerialModbusServer server = new(
            new SerialLineOptions { PortName = pair.Theirs }, new Dictionary<byte, IModbusDevice> { [1] = one, [2] = two });
        server.Start();
        using SerialModbusLink link = new(new SerialLineOptions { PortName = pair.Ours }, new RtuLinkOptions { TurnaroundMs = 50 });
        link.Connect(TimeoutMs);

        Assert.True(link.WriteRegister(2, 7, 70, TimeoutMs).IsGood);
        Assert.Equal((7, 70), (one.HoldingRegisters[7], two.HoldingRegisters[7]));
        Assert.Equal(ModbusOutcome.Timeout, link.WriteRegister(3, 7, 99, 100).Outcome); // nobody there, and no exception 0A on a line
        Assert.Equal(ModbusOutcome.BroadcastSent, link.WriteRegister(0, 7, 5, TimeoutMs).Outcome);
        ushort[] words = new ushort[1];
        Assert.True(link.ReadRegisters(1, ModbusTable.HoldingRegisters, 7, words, TimeoutMs).IsGood);
        Assert.Equal((5, 5), (words[0], two.HoldingRegisters[7]));
        Assert.Equal((1L, 1L), (server.Counters.Broadcasts, server.Counters.Discarded));
    }

    [Fact]
    public void An_open_port_allocates_nothing_over_a_thousand_requests()
    {
        using PtyPair pair = new();
        using SerialModbusServer server = new(
            new SerialLineOptions { PortName = pair.Theirs }, new Dictionary<byte, IModbusDevice> { [1] = new PeerDevice() });
        server.Start();
        using SerialModbusLink link = new(new SerialLineOptions { PortName = pair.Ours, BaudRate = 115_200 });
        link.Connect(TimeoutMs);
        ushort[] words = new ushort[10];
        Assert.True(Run(link, words, 50));
        long before = GC.GetAllocatedBytesForCurrentThread();
        bool isGood = Run(link, words, 1000);
        long allocated = GC.GetAllocatedBytesForCurrentThread() - before;
        Assert.True(isGood);
        Assert.Equal(0, allocated);
    }

    private static bool Run(SerialModbusLink link, ushort[] words, int count)
    {
        bool isGood = true;
        for (int i = 0; i < count; i++)
        {
            isGood &= link.ReadRegisters(1, ModbusTable.HoldingRegisters, 0, words, TimeoutMs).IsGood;
        }

        return isGood;
    }
}
