using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Modbus.Server;
using EdgeGuard.Modbus.Transports;

namespace EdgeGuard.Interop.Tests.Modbus;

/// <summary>What both carriers of RTU frames must do alike: a real serial port (a pair made by socat) and a TCP connection.</summary>
public sealed class RtuTransportTests
{
    private const int TimeoutMs = 60_000;

    [Theory]
    [InlineData("serial")]
    [InlineData("rtu-tcp")]
    public void Frames_of_any_length_travel_both_ways_and_an_exception_leaves_the_line_usable(string transport)
    {
        using ForeignClientRig rig = new(new PeerDevice(), transport);
        using RtuModbusLink link = Connect(rig);
        ushort[] words = new ushort[125];
        Assert.True(link.WriteRegisters(1, 3, [7, 8], TimeoutMs).IsGood);
        Assert.True(link.ReadRegisters(1, ModbusTable.HoldingRegisters, 3, words, TimeoutMs).IsGood);
        Assert.Equal([7, 8, 5, 127], [words[0], words[1], words[2], words[124]]);
        Assert.Equal(
            new ModbusResult(ModbusOutcome.DeviceException, ModbusExceptionCode.IllegalDataAddress),
            link.ReadRegisters(1, ModbusTable.HoldingRegisters, 199, words.AsSpan(0, 2), TimeoutMs));
        Assert.True(link.WriteCoil(1, 0, true, TimeoutMs).IsGood);
    }

    [Theory]
    [InlineData("serial")]
    [InlineData("rtu-tcp")]
    public void Every_exception_of_the_specification_arrives_as_itself(string transport)
    {
        PeerDevice device = new();
        using ForeignClientRig rig = new(device, transport);
        using RtuModbusLink link = Connect(rig);
        byte[] codes = [0x01, 0x02, 0x03, 0x04, 0x05, 0x06, 0x08, 0x0A, 0x0B]; // V1.1b3, section 7
        foreach (ModbusExceptionCode code in codes.Select(static c => (ModbusExceptionCode)c))
        {
            device.Refusal = code;
            ModbusResult expected = new(ModbusOutcome.DeviceException, code);
            Assert.Equal(expected, link.ReadRegisters(1, ModbusTable.HoldingRegisters, 0, new ushort[2], TimeoutMs));
            Assert.Equal(expected, link.WriteRegister(1, 0, 1, TimeoutMs));
            Assert.Equal(expected, link.WriteCoils(1, 0, [true, false], TimeoutMs));
        }

        device.Refusal = ModbusExceptionCode.None;
        Assert.True(link.WriteRegister(1, 0, 1, TimeoutMs).IsGood);
        Assert.True(link.IsConnected);
    }

    [Theory]
    [InlineData("serial")]
    [InlineData("rtu-tcp")]
    public void Several_units_share_a_line_and_a_broadcast_reaches_them_all(string transport)
    {
        PeerDevice one = new();
        PeerDevice two = new();
        using ForeignClientRig rig = new(new Dictionary<byte, IModbusDevice> { [1] = one, [2] = two }, transport);
        using RtuModbusLink link = Connect(rig);
        Assert.True(link.WriteRegister(2, 7, 70, TimeoutMs).IsGood);
        Assert.Equal((7, 70), (one.HoldingRegisters[7], two.HoldingRegisters[7]));
        Assert.Equal(ModbusOutcome.Timeout, link.WriteRegister(3, 7, 99, 100).Outcome); // nobody there, and no exception 0A on a line
        Assert.Equal(ModbusOutcome.BroadcastSent, link.WriteRegister(0, 7, 5, TimeoutMs).Outcome);
        ushort[] words = new ushort[1];
        Assert.True(link.ReadRegisters(1, ModbusTable.HoldingRegisters, 7, words, TimeoutMs).IsGood);
        Assert.Equal((5, 5), (words[0], two.HoldingRegisters[7]));
        Assert.Equal((1L, 1L), (rig.Counters.Broadcasts, rig.Counters.Discarded));
    }

    [Theory]
    [InlineData("serial")]
    [InlineData("rtu-tcp")]
    public void A_silent_unit_leaves_the_line_to_the_others(string transport)
    {
        using ForeignClientRig rig = new(new PeerDevice(), transport);
        using RtuModbusLink link = Connect(rig);
        for (int i = 0; i < 4; i++)
        {
            Assert.Equal(ModbusOutcome.Timeout, link.WriteCoil(9, 0, true, 30).Outcome);
            Assert.True(link.WriteCoil(1, 0, true, TimeoutMs).IsGood);
        }

        Assert.True(link.IsConnected);
    }

    [Theory]
    [InlineData("serial")]
    [InlineData("rtu-tcp")]
    public void An_open_line_allocates_nothing_over_a_thousand_requests(string transport)
    {
        using ForeignClientRig rig = new(new PeerDevice(), transport);
        using RtuModbusLink link = Connect(rig);
        ushort[] words = new ushort[10];
        Assert.True(Run(link, words, 50));
        long before = GC.GetAllocatedBytesForCurrentThread();
        bool isGood = Run(link, words, 1000);
        long allocated = GC.GetAllocatedBytesForCurrentThread() - before;
        Assert.True(isGood);
        Assert.Equal(0, allocated);
    }

    private static bool Run(RtuModbusLink link, ushort[] words, int count)
    {
        bool isGood = true;
        for (int i = 0; i < count; i++)
        {
            isGood &= link.ReadRegisters(1, ModbusTable.HoldingRegisters, 0, words, TimeoutMs).IsGood;
        }

        return isGood;
    }

    private static RtuModbusLink Connect(ForeignClientRig rig)
    {
        RtuModbusLink link = rig.RtuLink(new RtuLinkOptions { TurnaroundMs = 50, SilentRequestsMax = 2, LateAnswerGuardMs = 1 });
        link.Connect(TimeoutMs);
        return link;
    }
}
