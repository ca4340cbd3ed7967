using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Tests.Signals;

public sealed class WordEncoderTests
{
    [Theory]
    [InlineData(WordType.Float32, WordOrder.Abcd, 1100.0, 0x4489, 0x8000)]
    [InlineData(WordType.Float32, WordOrder.Cdab, 1100.0, 0x8000, 0x4489)]
    [InlineData(WordType.Float32, WordOrder.Badc, 1100.0, 0x8944, 0x0080)]
    [InlineData(WordType.Float32, WordOrder.Dcba, 1100.0, 0x0080, 0x8944)]
    [InlineData(WordType.Int32, WordOrder.Abcd, -2.0, 0xFFFF, 0xFFFE)]
    [InlineData(WordType.UInt32, WordOrder.Cdab, 65536.0, 0x0000, 0x0001)]
    public void A_number_becomes_its_two_words(WordType type, WordOrder order, double value, int w0, int w1)
    {
        Span<ushort> words = stackalloc ushort[2];
        Assert.True(WordEncoder.TryEncode(value, type, order, 1, 0, words, out int count));
        Assert.Equal(2, count);
        Assert.Equal((ushort)w0, words[0]);
        Assert.Equal((ushort)w1, words[1]);
    }

    [Theory]
    [InlineData(WordType.Int16, 3276.7, true)]
    [InlineData(WordType.Int16, 3276.8, false)]
    [InlineData(WordType.Int16, -3276.8, true)]
    [InlineData(WordType.Int16, -3276.9, false)]
    [InlineData(WordType.UInt16, 6553.5, true)]
    [InlineData(WordType.UInt16, 6553.6, false)]
    [InlineData(WordType.UInt16, -0.1, false)]
    [InlineData(WordType.Bit, 0.1, true)]
    [InlineData(WordType.Bit, 0.2, false)]
    [InlineData(WordType.Int16, double.NaN, false)]
    [InlineData(WordType.Int16, double.PositiveInfinity, false)]
    [InlineData(WordType.None, 0, false)]
    [InlineData((WordType)99, 0, false)]
    public void A_value_is_refused_exactly_where_the_register_ends(WordType type, double value, bool fits)
    {
        Span<ushort> words = stackalloc ushort[1];
        Assert.Equal(fits, WordEncoder.TryEncode(value, type, WordOrder.None, 0.1, 0, words, out int count));
        Assert.Equal(fits ? 1 : 0, count);
    }

    [Theory]
    [InlineData(1e39, 1, WordOrder.Abcd)] // above the largest single
    [InlineData(1e-40, 1, WordOrder.Abcd)] // subnormal: the decoder would refuse it
    [InlineData(1e-60, 1, WordOrder.Abcd)] // would become 0
    [InlineData(10, 0, WordOrder.Abcd)] // scale 0
    [InlineData(10, double.NaN, WordOrder.Abcd)]
    [InlineData(10, 1, WordOrder.None)]
    public void A_single_that_could_not_be_read_back_is_refused(double value, double scale, WordOrder order)
    {
        Span<ushort> words = [7, 7];
        Assert.False(WordEncoder.TryEncode(value, WordType.Float32, order, scale, 0, words, out int count));
        Assert.Equal(0, count);
        Assert.Equal(7, words[0]);
    }

    [Fact]
    public void Too_little_room_is_refused()
    {
        Assert.False(WordEncoder.TryEncode(1, WordType.Float32, WordOrder.Abcd, 1, 0, new ushort[1], out _));
        Assert.False(WordEncoder.TryEncode(1, WordType.UInt16, WordOrder.Abcd, 1, 0, [], out _));
    }
}
