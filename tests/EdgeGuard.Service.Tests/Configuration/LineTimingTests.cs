using EdgeGuard.Modbus;
using EdgeGuard.Service.Configuration;

namespace EdgeGuard.Service.Tests.Configuration;

/// <summary>Time on the wire against published figures.</summary>
public sealed class LineTimingTests
{
    // Modbus over serial line V1.02, 2.5.1.1: 3.5 characters of 11 bits up to 19200 baud, 1.750 ms above.
    [Theory]
    [InlineData(1_200, 32.083)]
    [InlineData(2_400, 16.042)]
    [InlineData(4_800, 8.021)]
    [InlineData(9_600, 4.010)]
    [InlineData(19_200, 2.005)]
    [InlineData(38_400, 1.750)]
    [InlineData(115_200, 1.750)]
    public void The_silent_interval_is_that_of_the_specification(int baud, double ms)
    {
        Assert.Equal(ms, LineTiming.SilenceMs(baud), 0.0006);
    }

    // Common figures for planning, no source: two devices of 20 registers and a heartbeat take some 190 ms a cycle at
    // 9600 baud, 112 at 19200, 54 at 115200. Their answer delay is not stated; 12 ms fits all three within 2.5 %.
    [Trait("requirement", "CONF-6")]
    [Theory]
    [InlineData(9_600, 190)]
    [InlineData(19_200, 112)]
    [InlineData(115_200, 54)]
    public void Two_devices_of_twenty_registers_and_a_heartbeat_take_the_usual_time(int baud, double ms)
    {
        double read = LineTiming.ReadMs(ModbusTable.HoldingRegisters, 20, baud, LineTiming.AssumedSerialDelayMs);
        double cycle = (2 * read) + LineTiming.WriteMs(1, baud, LineTiming.AssumedSerialDelayMs);
        Assert.InRange(cycle, 0.975 * ms, 1.025 * ms);
    }

    [Fact]
    public void Bytes_on_the_wire_are_those_of_the_frames()
    {
        // At 11000 baud a character takes 1 ms and t3.5 3.5 ms. Frames: V1.1b3, sections 6.1, 6.3, 6.6, 6.12 with unit id and CRC.
        Assert.Equal(8 + 5 + 40 + 10 + 3.5, LineTiming.ReadMs(ModbusTable.InputRegisters, 20, 11_000, 10), 9);
        Assert.Equal(8 + 5 + 2 + 10 + 3.5, LineTiming.ReadMs(ModbusTable.Coils, 9, 11_000, 10), 9);
        Assert.Equal(8 + 8 + 10 + 3.5, LineTiming.WriteMs(1, 11_000, 10), 9);
        Assert.Equal(13 + 8 + 10 + 3.5, LineTiming.WriteMs(2, 11_000, 10), 9);
        Assert.Equal(8 + 8 + 3.5 + 3.5, LineTiming.WriteMs(1, 11_000, 0), 9);
        Assert.Equal(5, LineTiming.ReadMs(ModbusTable.InputRegisters, 125, 0, 5));
    }
}
