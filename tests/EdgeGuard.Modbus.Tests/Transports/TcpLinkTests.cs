using EdgeGuard.Modbus.Client;
using EdgeGuard.Modbus.Transports;

namespace EdgeGuard.Modbus.Tests.Transports;

public sealed class TcpLinkTests
{
    private const int TimeoutMs = Timed.PatienceMs;

    [Fact]
    public void All_eight_functions_reach_the_device_and_come_back()
    {
        using LoopbackServer loopback = new();
        using TcpModbusLink link = loopback.Connect();
        loopback.Device.InputRegisters[7] = 0xABCD;
        loopback.Device.DiscreteInputs[3] = true;
        ushort[] words = new ushort[2];

        Assert.True(link.WriteRegister(1, 10, 0x1234, TimeoutMs).IsGood);
        Assert.True(link.WriteRegisters(1, 11, [0x5678, 0x9ABC], TimeoutMs).IsGood);
        Assert.True(link.ReadRegisters(1, ModbusTable.HoldingRegisters, 10, words, TimeoutMs).IsGood);
        Assert.Equal([0x1234, 0x5678], words);
        Assert.True(link.ReadRegisters(1, ModbusTable.InputRegisters, 6, words, TimeoutMs).IsGood);
        Assert.Equal([0, 0xABCD], words);
        Assert.True(link.WriteCoil(1, 100, true, TimeoutMs).IsGood);
        Assert.True(link.WriteCoils(1, 101, [false, true], TimeoutMs).IsGood);
        Assert.Equal([true, false, true], loopback.Device.Coils[100..103]);
        Assert.True(link.ReadBits(1, ModbusTable.Coils, 101, words, TimeoutMs).IsGood);
        Assert.Equal([0, 1], words);
        Assert.True(link.ReadBits(1, ModbusTable.DiscreteInputs, 3, words, TimeoutMs).IsGood);
        Assert.Equal([1, 0], words);
        Assert.Equal("Requests 8, Answers 8, Openings 1", link.Counters.ToString());
    }

    [Fact]
    public void A_connected_link_allocates_nothing_over_ten_thousand_transactions()
    {
        using LoopbackServer loopback = new();
        using TcpModbusLink link = loopback.Connect();
        ushort[] words = new ushort[12];
        bool isGood = Run(link, words, 200);

        long before = GC.GetAllocatedBytesForCurrentThread();
        isGood &= Run(link, words, 10_000);
        long allocated = GC.GetAllocatedBytesForCurrentThread() - before;

        Assert.True(isGood);
        Assert.Equal(0, allocated);
    }

    private static bool Run(TcpModbusLink link, ushort[] words, int count)
    {
        bool isGood = true;
        for (int i = 0; i < count; i++)
        {
            ModbusResult result = (i % 4) switch
            {
                0 => link.ReadRegisters(1, ModbusTable.InputRegisters, 0, words, TimeoutMs),
                1 => link.ReadBits(1, ModbusTable.Coils, 0, words, TimeoutMs),
                2 => link.WriteRegister(1, 0, (ushort)i, TimeoutMs),
                _ => link.WriteRegisters(1, 5, words, TimeoutMs),
            };
            isGood &= result.IsGood;
        }

        return isGood;
    }
}
