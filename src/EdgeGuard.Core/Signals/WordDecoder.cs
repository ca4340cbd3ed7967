namespace EdgeGuard.Core.Signals;

/// <summary>
/// Registers → the raw number they stand for, the inverse of <see cref="WordEncoder"/>. A pattern that cannot be a
/// number of the type is refused: NaN, infinite, subnormal, a nibble above 9, a whole number that a double cannot carry
/// exactly. It never throws and allocates nothing.
/// </summary>
public static class WordDecoder
{
    private const int BitsInWord = 16;

    /// <summary>Decodes the value at the beginning of <paramref name="words"/>.</summary>
    /// <param name="words">Registers as read; more than the type needs are ignored, fewer are refused.</param>
    /// <param name="type">How the registers become a number.</param>
    /// <param name="order">Order of registers and bytes; ignored for types of one register.</param>
    /// <param name="bit">Number of the bit, or the lowest of a bit field, 0 to 15; ignored for other types.</param>
    /// <param name="bitCount">Bits of a bit field, 1 to 16; ignored for other types.</param>
    /// <param name="raw">The number before scaling; 0 when the result is false.</param>
    /// <returns>True when the registers are a number of the type.</returns>
    public static bool TryDecode(
        ReadOnlySpan<ushort> words, WordType type, WordOrder order, int bit, int bitCount, out double raw)
    {
        raw = 0;
        int count = WordTypes.WordCount(type);
        if (count == 0 || words.Length < count || !WordAssembly.TryJoin(words[..count], order, out ulong bits))
        {
            return false;
        }

        switch (type)
        {
            case WordType.Bit:
                return TryField(bits, bit, 1, out raw);
            case WordType.BitField:
                return TryField(bits, bit, bitCount, out raw);
            case WordType.Bcd16:
                return BcdCodec.TryRead(bits, 4, out raw);
            case WordType.Bcd32:
                return BcdCodec.TryRead(bits, 8, out raw);
            case WordType.Float32 or WordType.Float64:
                return TryFloat(type, bits, out raw);
            default:
                return TryWhole(type, bits, out raw);
        }
    }

    private static bool TryField(ulong bits, int bit, int bitCount, out double raw)
    {
        raw = 0;
        bool fits = bit is >= 0 and < BitsInWord && bitCount is >= 1 and <= BitsInWord && bit + bitCount <= BitsInWord;
        if (fits)
        {
            raw = (bits >> bit) & ((1UL << bitCount) - 1);
        }

        return fits;
    }

    private static bool TryFloat(WordType type, ulong bits, out double raw)
    {
        if (type == WordType.Float64)
        {
            double number = BitConverter.UInt64BitsToDouble(bits);
            raw = double.IsFinite(number) && !double.IsSubnormal(number) ? number : 0;
            return double.IsFinite(number) && !double.IsSubnormal(number);
        }

        float single = BitConverter.UInt32BitsToSingle((uint)bits);
        bool usable = float.IsFinite(single) && !float.IsSubnormal(single);
        raw = usable ? single : 0;
        return usable;
    }

    private static bool TryWhole(WordType type, ulong bits, out double raw)
    {
        long whole = unchecked(type switch
        {
            WordType.Int16 => (short)bits,
            WordType.Int32 => (int)bits,
            WordType.UInt64 when bits > WordTypes.LargestWhole => long.MaxValue,
            _ => (long)bits,
        });
        bool exact = whole is >= -WordTypes.LargestWhole and <= WordTypes.LargestWhole;
        raw = exact ? whole : 0;
        return exact;
    }
}
