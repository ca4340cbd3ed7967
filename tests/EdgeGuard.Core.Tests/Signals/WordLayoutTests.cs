using System.Globalization;
using EdgeGuard.Core.Signals;
using EdgeGuard.Core.Tests.Thermal;

namespace EdgeGuard.Core.Tests.Signals;

/// <summary>Published bit patterns in each order, read and written by the one codec; sources stand in the table.</summary>
public sealed class WordLayoutTests
{
    public static TheoryData<string> Layouts() =>
        [.. Vectors.Rows("word-layouts.csv").Select(r => string.Join(',', r))];

    [Trait("requirement", "MODB-4")]
    [Theory]
    [MemberData(nameof(Layouts))]
    public void A_published_pattern_reads_as_its_value_and_the_value_writes_the_pattern(string row)
    {
        (WordType type, WordOrder order, double value, ushort[] words) = Parse(row);
        Assert.True(WordDecoder.TryDecode(words, type, order, 0, 1, out double raw));
        Assert.Equal(type == WordType.Float32 ? (float)value : value, raw);

        var written = new ushort[4];
        Assert.True(WordEncoder.TryEncode(value, type, order, 1, 0, written, out int count));
        Assert.Equal(words, written[..count]);
        Assert.Equal(WordTypes.WordCount(type), count);
    }

    [Theory]
    [InlineData(WordType.UInt64, 0x0020, 0, 0, 1)] // 2^53 + 1
    [InlineData(WordType.Int64, 0xFFDF, 0xFFFF, 0xFFFF, 0xFFFF)] // -2^53 - 1
    [InlineData(WordType.Int64, 0x8000, 0, 0, 0)] // the smallest of all
    [InlineData(WordType.UInt64, 0xFFFF, 0xFFFF, 0xFFFF, 0xFFFF)]
    [InlineData(WordType.Float64, 0x7FF0, 0, 0, 0)] // infinite
    [InlineData(WordType.Float64, 0x7FF8, 0, 0, 0)] // NaN
    [InlineData(WordType.Float64, 0x0000, 0, 0, 1)] // subnormal
    [InlineData(WordType.Bcd32, 0x1234, 0x567A, 0, 0)] // no digit
    public void A_pattern_that_is_no_exact_number_is_refused(WordType type, int w0, int w1, int w2, int w3)
    {
        ushort[] words = [(ushort)w0, (ushort)w1, (ushort)w2, (ushort)w3];
        Assert.False(WordDecoder.TryDecode(words, type, WordOrder.Abcd, 0, 1, out double raw));
        Assert.Equal(0, raw);
        Assert.Equal(StatusCode.BadConfigurationError, SignalDecoder.Decode(TestSignals.Table(type, WordOrder.Abcd), TestSignals.Block(words)).Status);
    }

    [Theory]
    [InlineData(WordType.Bcd16, 9_999.4, true)]
    [InlineData(WordType.Bcd16, 9_999.6, false)]
    [InlineData(WordType.Bcd16, -0.6, false)]
    [InlineData(WordType.Bcd32, 99_999_999, true)]
    [InlineData(WordType.Bcd32, 100_000_000, false)]
    [InlineData(WordType.UInt64, 9_007_199_254_740_992, true)]
    [InlineData(WordType.UInt64, 9_007_199_254_740_994, false)]
    [InlineData(WordType.Int64, -9_007_199_254_740_994, false)]
    [InlineData(WordType.Float64, 1e-310, false)]
    [InlineData(WordType.BitField, 1, false)]
    public void A_value_is_refused_where_its_type_ends(WordType type, double value, bool fits)
    {
        Assert.Equal(fits, WordEncoder.TryEncode(value, type, WordOrder.Abcd, 1, 0, new ushort[4], out int count));
        Assert.Equal(fits ? WordTypes.WordCount(type) : 0, count);
    }

    [Fact]
    public void Four_registers_need_room_and_an_order()
    {
        Assert.False(WordDecoder.TryDecode(new ushort[3], WordType.Float64, WordOrder.Abcd, 0, 1, out _));
        Assert.False(WordDecoder.TryDecode(new ushort[4], WordType.Float64, WordOrder.None, 0, 1, out _));
        Assert.False(WordEncoder.TryEncode(1, WordType.Float64, WordOrder.Abcd, 1, 0, new ushort[3], out _));
        Assert.False(WordEncoder.TryEncode(1, WordType.Int64, WordOrder.None, 1, 0, new ushort[4], out _));
    }

    private static (WordType Type, WordOrder Order, double Value, ushort[] Words) Parse(string row)
    {
        string[] cells = row.Split(',');
        WordType type = cells[0] switch
        {
            "u16" => WordType.UInt16,
            "i16" => WordType.Int16,
            "u32" => WordType.UInt32,
            "i32" => WordType.Int32,
            "f32" => WordType.Float32,
            "u64" => WordType.UInt64,
            "i64" => WordType.Int64,
            "f64" => WordType.Float64,
            "bcd16" => WordType.Bcd16,
            "bcd32" => WordType.Bcd32,
            _ => throw new InvalidDataException(row),
        };
        WordOrder order = cells[1].Length == 0 ? WordOrder.None : Enum.Parse<WordOrder>(cells[1], ignoreCase: true);
        ushort[] words = [.. cells[3].Split(' ').Select(w => ushort.Parse(w, NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture))];
        return (type, order, double.Parse(cells[2], CultureInfo.InvariantCulture), words);
    }
}
