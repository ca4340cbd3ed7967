using CsCheck;
using EdgeGuard.Core.Signals;
using static EdgeGuard.Core.Tests.Signals.TestSignals;

namespace EdgeGuard.Core.Tests.Signals;

public sealed class SignalPropertyTests
{
    private static readonly Gen<WordOrder> Orders = OneOf(WordOrder.Abcd, WordOrder.Cdab, WordOrder.Badc, WordOrder.Dcba);

    private static readonly Gen<SignalTable> AnyTable =
        from type in Gen.Byte[0, 14]
        from order in Gen.Byte[0, 6]
        from offset in Gen.Int[-2, 6]
        from bit in Gen.Int[-2, 18]
        from bitCount in Gen.Int[-2, 18]
        from scale in Gen.Double
        from add in Gen.Double
        from min in Gen.Double
        from max in Gen.Double
        from stale in Gen.Int
        from hold in Gen.Int
        select new SignalTable
        {
            Role = SignalRole.GasFlow,
            Block = 0,
            WordOffset = offset,
            Type = (WordType)type,
            Order = (WordOrder)order,
            Bit = bit,
            BitCount = bitCount,
            Scale = scale,
            Offset = add,
            RangeMin = min,
            RangeMax = max,
            StaleMs = stale,
            HoldMs = hold,
            Sentinel = min,
        };

    private static readonly Gen<RawBlock> AnyBlock =
        from result in Gen.Byte[0, 7]
        from age in Gen.Int
        from words in Gen.UShort.Array[0, 8]
        select new RawBlock { Result = (ReadResult)result, AgeMs = age, Words = words };

    [Fact]
    public void Decode_never_throws_and_a_good_value_is_fresh_finite_and_in_range()
    {
        Gen.Select(AnyTable, AnyBlock).Sample(
            (table, block) =>
            {
                SignalValue value = SignalDecoder.Decode(table, block);
                bool bad = value.Status >> 30 == 2;
                return value.Known
                    && (!bad || value.Value == 0)
                    && (!value.IsGood || (double.IsFinite(value.Value) && value.Value >= table.RangeMin
                        && value.Value <= table.RangeMax && block.AgeMs >= 0 && block.AgeMs <= table.StaleMs));
            },
            iter: 100_000);
    }

    [Trait("requirement", "QUAL-1")]
    [Fact]
    public void No_word_pattern_of_a_NaN_infinity_or_subnormal_is_ever_good()
    {
        Gen.Select(Gen.UShort, Gen.UShort, Orders).Sample(
            (w0, w1, order) =>
            {
                SignalTable table = Table(WordType.Float32, order) with { RangeMin = double.MinValue, RangeMax = double.MaxValue };
                SignalValue value = SignalDecoder.Decode(table, Block(w0, w1));
                var single = (float)value.Value;
                return !value.IsGood || (float.IsFinite(single) && !float.IsSubnormal(single));
            },
            iter: 100_000);
    }

    // A random low word makes a random exponent: without the rule for temperatures 52 % of such readings pass a range of
    // -20 to 1372; with it only exponents of 2^-10 to 1372 are left, 20 of 256 with either sign less what lies below -20.
    [Trait("requirement", "QUAL-1")]
    [Theory]
    [InlineData(SignalRole.ElementTemperature, 0.05, 0.10)]
    [InlineData(SignalRole.OutletTemperature3, 0.05, 0.10)]
    [InlineData(SignalRole.Power, 0.45, 0.60)] // a power decays to nothing in truth: there the rule must not hold
    public void A_temperature_in_the_wrong_word_order_is_hardly_ever_good(SignalRole role, double least, double most)
    {
        int good = 0;
        const int Readings = 100_000;
        for (int i = 0; i < Readings; i++)
        {
            float celsius = 100 + (i * 0.01F) + (i * 0.000_03F);
            uint bits = BitConverter.SingleToUInt32Bits(celsius);
            SignalTable table = Table(WordType.Float32, WordOrder.Cdab) with { Role = role, RangeMin = -20, RangeMax = 1372 };
            good += SignalDecoder.Decode(table, Block((ushort)(bits >> 16), (ushort)(bits & 0xFFFF))).IsGood ? 1 : 0;
        }

        Assert.InRange((double)good / Readings, least, most);
    }

    [Theory]
    [InlineData(0F, true)]
    [InlineData(0.001F, true)]
    [InlineData(-0.5F, true)]
    [InlineData(0.0009F, false)]
    [InlineData(-1e-20F, false)]
    public void A_temperature_next_to_nothing_is_no_reading(float celsius, bool good)
    {
        uint bits = BitConverter.SingleToUInt32Bits(celsius);
        Assert.Equal(good, SignalDecoder.Decode(Table(WordType.Float32, WordOrder.Abcd), Block((ushort)(bits >> 16), (ushort)(bits & 0xFFFF))).IsGood);
    }

    [Fact]
    public void Every_pattern_of_one_word_survives_decode_and_encode()
    {
        Span<ushort> words = stackalloc ushort[2];
        foreach (WordType type in (WordType[])[WordType.UInt16, WordType.Int16])
        {
            for (int word = 0; word <= ushort.MaxValue; word++)
            {
                SignalValue value = SignalDecoder.Decode(Table(type) with { Scale = 0.1 }, Block((ushort)word));
                Assert.True(value.IsGood);
                Assert.True(WordEncoder.TryEncode(value.Value, type, WordOrder.None, 0.1, 0, words, out int count));
                Assert.Equal(1, count);
                Assert.Equal(word, words[0]);
            }
        }
    }

    [Fact]
    public void Every_good_pattern_of_two_words_survives_decode_and_encode_in_each_order()
    {
        Gen.Select(Gen.UShort, Gen.UShort, Orders, OneOf(WordType.UInt32, WordType.Int32, WordType.Float32, WordType.Bcd32)).Sample(
            (w0, w1, order, type) =>
            {
                SignalTable table = Table(type, order) with { RangeMin = double.MinValue, RangeMax = double.MaxValue };
                SignalValue value = SignalDecoder.Decode(table, Block(w0, w1));
                var words = new ushort[2];
                return !value.IsGood
                    || (WordEncoder.TryEncode(value.Value, type, order, 1, 0, words, out int count)
                        && count == 2 && words[0] == w0 && words[1] == w1);
            },
            iter: 100_000);
    }

    [Fact]
    public void Every_good_pattern_of_four_words_survives_decode_and_encode_in_each_order()
    {
        int good = 0;
        Gen.Select(Gen.UShort.Array[4], Orders, OneOf(WordType.UInt64, WordType.Int64, WordType.Float64), Gen.Int[0, 2]).Sample(
            (pattern, order, type, clear) =>
            {
                // Whole numbers of 64 bits are mostly beyond 2^53; clearing the upper words makes them usable.
                pattern[order is WordOrder.Cdab or WordOrder.Dcba ? 3 : 0] = clear == 0 ? pattern[0] : (ushort)0;
                var words = new ushort[4];
                if (!WordDecoder.TryDecode(pattern, type, order, 0, 1, out double raw))
                {
                    return raw == 0;
                }

                Interlocked.Increment(ref good);
                return WordEncoder.TryEncode(raw, type, order, 1, 0, words, out int count) && count == 4 && words.AsSpan().SequenceEqual(pattern);
            },
            iter: 100_000);
        Assert.InRange(good, 20_000, 100_000);
    }

    [Fact]
    public void Every_pattern_of_four_decimal_digits_is_a_number_or_refused_and_written_back_the_same()
    {
        var words = new ushort[1];
        int numbers = 0;
        for (int pattern = 0; pattern <= ushort.MaxValue; pattern++)
        {
            string digits = pattern.ToString("X4", System.Globalization.CultureInfo.InvariantCulture);
            bool expected = digits.All(char.IsAsciiDigit);
            Assert.Equal(expected, WordDecoder.TryDecode([(ushort)pattern], WordType.Bcd16, WordOrder.None, 0, 1, out double raw));
            if (expected)
            {
                numbers++;
                Assert.Equal(int.Parse(digits, System.Globalization.CultureInfo.InvariantCulture), raw);
                Assert.True(WordEncoder.TryEncode(raw, WordType.Bcd16, WordOrder.None, 1, 0, words, out _));
                Assert.Equal(pattern, words[0]);
            }
        }

        Assert.Equal(10_000, numbers);
    }

    [Fact]
    public void A_bit_field_is_the_number_its_bits_spell_and_stays_inside_the_register()
    {
        Gen.Select(Gen.UShort, Gen.Int[-1, 17], Gen.Int[-1, 17]).Sample(
            (word, bit, count) =>
            {
                bool inside = bit >= 0 && count >= 1 && bit + count <= 16;
                bool read = WordDecoder.TryDecode([word], WordType.BitField, WordOrder.None, bit, count, out double raw);
                if (read != inside || !inside)
                {
                    return read == inside && raw == 0;
                }

                // The same by text: the binary digits of the word, most significant first.
                string binary = Convert.ToString(word, 2).PadLeft(16, '0');
                return raw == Convert.ToInt32(binary.Substring(16 - bit - count, count), 2);
            },
            iter: 50_000);
    }

    [Fact]
    public void What_the_encoder_accepts_the_decoder_reads_back_within_half_a_step()
    {
        Gen.Select(Gen.Double[-5e9, 5e9], OneOf(0.1, 1.0, 2.5, -1.0), Orders,
            OneOf(WordType.UInt16, WordType.Int16, WordType.UInt32, WordType.Int32)).Sample(
            (wanted, scale, order, type) =>
            {
                var words = new ushort[4];
                bool fits = WordEncoder.TryEncode(wanted, type, order, scale, 20, words, out int count);
                SignalTable table = Table(type, order) with { Scale = scale, Offset = 20 };
                return fits
                    ? Math.Abs(SignalDecoder.Decode(table, Block(words)).Value - wanted) <= (Math.Abs(scale) / 2) + 1e-5
                    : count == 0 && words.All(w => w == 0);
            },
            iter: 50_000);
    }

    private static Gen<T> OneOf<T>(params T[] values) => Gen.Int[0, values.Length - 1].Select(i => values[i]);
}
