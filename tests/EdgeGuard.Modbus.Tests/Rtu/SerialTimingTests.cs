using EdgeGuard.Modbus.Framing;
using EdgeGuard.Modbus.Transports;

namespace EdgeGuard.Modbus.Tests.Rtu;

public sealed class SerialTimingTests
{
    // Serial Line V1.02, 2.5.1.1, as quoted in a public issue: 11 bits a character; up to 19200 bit/s 1.5 and 3.5
    // characters, above it 750 µs and 1.750 ms. The table in ms computed from that by hand (16.5 and 38.5 bits).
    [Theory]
    [InlineData(1200, 13_750, 32_083)]
    [InlineData(2400, 6_875, 16_042)]
    [InlineData(4800, 3_438, 8_021)]
    [InlineData(9600, 1_719, 4_010)]
    [InlineData(19_200, 859, 2_005)]
    [InlineData(38_400, 750, 1_750)]
    [InlineData(57_600, 750, 1_750)]
    [InlineData(115_200, 750, 1_750)]
    public void The_silences_are_those_of_the_table(int baud, int t15Us, int t35Us) =>
        Assert.Equal((t15Us, t35Us), (SerialTiming.T15Us(baud), SerialTiming.T35Us(baud)));

    [Fact]
    public void A_poll_of_twenty_registers_at_9600_takes_what_arithmetic_says()
    {
        // 8 bytes out, 45 back, 53 × 11 / 9600 = 60.729 ms, two silences of 4.010 ms, device 5 ms.
        Assert.Equal(60_729 + 8_020 + 5_000, SerialTiming.TransactionUs(9600, 8, 45, 5_000), 1.0);
        Assert.Equal(9_167 + 4_010 + 100_000, SerialTiming.TransactionUs(9600, 8, 0, 100_000), 1.0);
    }

    [Fact]
    public void The_defaults_are_those_of_the_guide()
    {
        SerialLineOptions options = new() { PortName = "x" };
        Assert.Equal((19_200, SerialParity.Even, 1), (options.BaudRate, options.Parity, options.EffectiveStopBits));
        Assert.Equal(2, (options with { Parity = SerialParity.None }).EffectiveStopBits);
        Assert.Equal(1, (options with { Parity = SerialParity.None, StopBits = 1 }).EffectiveStopBits);
    }

    [Fact]
    public void Options_out_of_range_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => new SerialModbusLink(new SerialLineOptions { PortName = "x", BaudRate = 9601 }));
        Assert.Throws<ArgumentOutOfRangeException>(() => new SerialModbusLink(new SerialLineOptions { PortName = "x", StopBits = 3 }));
        Assert.Throws<ArgumentException>(() => new SerialModbusLink(new SerialLineOptions { PortName = "" }));
        Assert.Throws<ArgumentOutOfRangeException>(() => Make(new RtuLinkOptions { InterFrameGapMs = -1 }));
        Assert.Throws<ArgumentOutOfRangeException>(() => Make(new RtuLinkOptions { ResyncSilenceMs = 0 }));
        Assert.Throws<ArgumentOutOfRangeException>(() => Make(new RtuLinkOptions { LateAnswerGuardMs = 60_001 }));
        Assert.Throws<ArgumentOutOfRangeException>(() => Make(new RtuLinkOptions { TurnaroundMs = 1001 }));
        Assert.Throws<ArgumentOutOfRangeException>(() => Make(new RtuLinkOptions { SilentRequestsMax = 0 }));
        static SerialModbusLink Make(RtuLinkOptions options) => new(new SerialLineOptions { PortName = "x" }, options);
    }
}
