using EdgeGuard.Core.Signals;
using static EdgeGuard.Core.Tests.Signals.TestSignals;

namespace EdgeGuard.Core.Tests.Signals;

public sealed class SignalDecoderTests
{
    // Bit patterns from IEEE 754-2008, binary32: 1.0 = 3F800000, 1100.0 = 44898000 (1.07421875 x 2^10); -118.625 =
    // C2ED4000 is the worked example of many textbooks (from memory, checked by hand: -1.11011010100 x 2^6).
    [Theory]
    [InlineData(0x3F80, 0x0000, WordOrder.Abcd, 1.0)]
    [InlineData(0x4489, 0x8000, WordOrder.Abcd, 1100.0)]
    [InlineData(0x8000, 0x4489, WordOrder.Cdab, 1100.0)]
    [InlineData(0x8944, 0x0080, WordOrder.Badc, 1100.0)]
    [InlineData(0x0080, 0x8944, WordOrder.Dcba, 1100.0)]
    [InlineData(0xC2ED, 0x4000, WordOrder.Abcd, -118.625)]
    public void A_single_precision_pattern_reads_as_the_number_of_IEEE_754(int w0, int w1, WordOrder order, double expected)
    {
        SignalValue value = SignalDecoder.Decode(Table(WordType.Float32, order), Block((ushort)w0, (ushort)w1));
        Assert.True(value.IsGood);
        Assert.Equal(expected, value.Value);
        Assert.Equal(50, value.AgeMs);
    }

    [Trait("requirement", "QUAL-1")]
    [Theory]
    [InlineData(0x4489, 0x8000, WordOrder.Cdab)] // 1100.0 with exchanged words = 2.5e-41
    [InlineData(0x0000, 0x0001, WordOrder.Abcd)] // smallest subnormal
    [InlineData(0x807F, 0xFFFF, WordOrder.Abcd)] // largest negative subnormal
    [InlineData(0x7FC0, 0x0000, WordOrder.Abcd)] // quiet NaN
    [InlineData(0x7F80, 0x0001, WordOrder.Abcd)] // signalling NaN
    [InlineData(0x7F80, 0x0000, WordOrder.Abcd)] // +infinity
    [InlineData(0xFF80, 0x0000, WordOrder.Abcd)] // -infinity
    [InlineData(0x3F80, 0x0000, WordOrder.None)] // order not configured
    public void What_cannot_be_a_number_is_a_configuration_error(int w0, int w1, WordOrder order)
    {
        SignalValue value = SignalDecoder.Decode(Table(WordType.Float32, order), Block((ushort)w0, (ushort)w1));
        Assert.Equal(StatusCode.BadConfigurationError, value.Status);
        Assert.False(value.IsGood);
        Assert.Equal(0, value.Value);
    }

    [Theory]
    [InlineData(WordType.UInt16, 0xFFFF, 0, 65535)]
    [InlineData(WordType.Int16, 0xFFFF, 0, -1)]
    [InlineData(WordType.Int16, 0x8000, 0, -32768)]
    [InlineData(WordType.UInt32, 0xFFFF, 0xFFFF, 4294967295)]
    [InlineData(WordType.Int32, 0xFFFF, 0xFFFE, -2)]
    [InlineData(WordType.Int32, 0x8000, 0x0000, -2147483648)]
    public void Integers_are_twos_complement(WordType type, int w0, int w1, double expected)
    {
        SignalValue value = SignalDecoder.Decode(Table(type, WordOrder.Abcd), Block((ushort)w0, (ushort)w1));
        Assert.True(value.IsGood);
        Assert.Equal(expected, value.Value);
    }

    [Fact]
    public void A_bit_is_counted_from_the_least_significant_one()
    {
        for (int bit = 0; bit < 16; bit++)
        {
            SignalTable table = Table(WordType.Bit) with { Bit = bit };
            Assert.Equal(1, SignalDecoder.Decode(table, Block((ushort)(1 << bit))).Value);
            Assert.Equal(0, SignalDecoder.Decode(table, Block((ushort)(0xFFFF ^ (1 << bit)))).Value);
        }
    }

    [Fact]
    public void Scale_and_offset_are_applied_in_that_order()
    {
        SignalTable table = Table(WordType.Int16) with { Scale = 0.5, Offset = -10 };
        Assert.Equal(190, SignalDecoder.Decode(table, Block(400)).Value);
    }

    [Theory]
    [InlineData(0, true)]
    [InlineData(1400, true)]
    [InlineData(1401, false)]
    [InlineData(0xFFFF, false)] // -1
    public void Outside_the_plausible_range_the_sensor_has_failed(int word, bool good)
    {
        SignalTable table = Table(WordType.Int16) with { RangeMin = 0, RangeMax = 1400 };
        SignalValue value = SignalDecoder.Decode(table, Block((ushort)word));
        Assert.Equal(good ? StatusCode.Good : StatusCode.BadSensorFailure, value.Status);
    }

    [Fact]
    public void A_sentinel_is_a_failed_sensor_even_inside_the_range()
    {
        SignalTable table = Table(WordType.Float32, WordOrder.Abcd) with { Sentinel = 9999.9 };
        uint bits = BitConverter.SingleToUInt32Bits(9999.9f);
        SignalValue value = SignalDecoder.Decode(table, Block((ushort)(bits >> 16), (ushort)(bits & 0xFFFF)));
        Assert.Equal(StatusCode.BadSensorFailure, value.Status);
        Assert.Equal(0, value.Value);
    }

    [Trait("requirement", "QUAL-2")]
    [Theory]
    [InlineData(ReadResult.Good, 500, StatusCode.Good, 7)]
    [InlineData(ReadResult.Timeout, 500, StatusCode.Good, 7)]
    [InlineData(ReadResult.DeviceException, 500, StatusCode.Good, 7)]
    [InlineData(ReadResult.Good, 501, StatusCode.UncertainNoCommunicationLastUsableValue, 7)]
    [InlineData(ReadResult.NotConnected, 2000, StatusCode.UncertainNoCommunicationLastUsableValue, 7)]
    [InlineData(ReadResult.Timeout, 2001, StatusCode.BadNoCommunication, 0)]
    [InlineData(ReadResult.NotConnected, 2001, StatusCode.BadNoCommunication, 0)]
    [InlineData(ReadResult.DeviceException, 2001, StatusCode.BadCommunicationError, 0)]
    [InlineData(ReadResult.BadAnswer, 2001, StatusCode.BadCommunicationError, 0)]
    [InlineData(ReadResult.NeverRead, 10, StatusCode.BadWaitingForInitialData, 0)]
    [InlineData(ReadResult.Timeout, int.MaxValue, StatusCode.BadWaitingForInitialData, 0)]
    [InlineData(ReadResult.Good, -1, StatusCode.Bad, 0)]
    public void Age_decides_in_stages_whether_a_reading_still_counts(ReadResult result, int age, uint status, double expected)
    {
        var block = new RawBlock { Result = result, AgeMs = age, Words = [7] };
        SignalValue value = SignalDecoder.Decode(Table(WordType.UInt16), block);
        Assert.Equal(status, value.Status);
        Assert.Equal(expected, value.Value);
        Assert.True(value.Known);
    }

    public static TheoryData<string, SignalTable> BrokenTables() => new()
    {
        { "type", Table(WordType.None) },
        { "unknown type", Table((WordType)99) },
        { "unknown order", Table(WordType.Int32, (WordOrder)99) },
        { "offset beyond the block", Table(WordType.UInt16, offset: 2) },
        { "second word beyond the block", Table(WordType.UInt32, WordOrder.Abcd, offset: 1) },
        { "offset below zero", Table(WordType.UInt16, offset: -1) },
        { "largest offset", Table(WordType.UInt32, WordOrder.Abcd, offset: int.MaxValue) },
        { "bit 16", Table(WordType.Bit) with { Bit = 16 } },
        { "bit -1", Table(WordType.Bit) with { Bit = -1 } },
        { "scale 0", Table(WordType.UInt16) with { Scale = 0 } },
        { "scale NaN", Table(WordType.UInt16) with { Scale = double.NaN } },
        { "offset infinite", Table(WordType.UInt16) with { Offset = double.PositiveInfinity } },
    };

    [Theory]
    [MemberData(nameof(BrokenTables))]
    public void A_table_that_does_not_fit_is_a_configuration_error(string what, SignalTable table)
    {
        Assert.NotEmpty(what);
        Assert.Equal(StatusCode.BadConfigurationError, SignalDecoder.Decode(table, Block(1, 2)).Status);
    }

    [Theory]
    [InlineData(double.NaN, 10)]
    [InlineData(0, double.NaN)]
    [InlineData(10, 0)]
    public void A_range_that_is_no_range_refuses_every_value(double min, double max)
    {
        SignalTable table = Table(WordType.UInt16) with { RangeMin = min, RangeMax = max };
        Assert.Equal(StatusCode.BadSensorFailure, SignalDecoder.Decode(table, Block(5)).Status);
    }

    [Fact]
    public void Missing_words_are_bad_and_do_not_throw()
    {
        var block = new RawBlock { Result = ReadResult.Good, AgeMs = 0, Words = null! };
        Assert.Equal(StatusCode.BadConfigurationError, SignalDecoder.Decode(Table(WordType.UInt16), block).Status);
        Assert.Equal(StatusCode.BadConfigurationError, SignalDecoder.Decode(null!, Block(1)).Status);
        Assert.False(SignalDecoder.Decode(Table(WordType.UInt16), default).IsGood);
    }
}
