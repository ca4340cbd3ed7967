namespace EdgeGuard.Core.Signals;

/// <summary>
/// An engineering value → the words of a write, the inverse of <see cref="SignalDecoder"/> and
/// <see cref="WordDecoder"/>. A value that the type cannot carry is refused, never saturated or wrapped: a setpoint of
/// 70 °C too many must not become one of 6 °C too few. What this refuses is not written, and a permit that is not
/// written expires in the cabinet.
/// </summary>
public static class WordEncoder
{
    private const double MinNormalSingle = 1.17549435082228751e-38; // IEEE 754: 2^-126
    private const double MinNormalDouble = 2.2250738585072014e-308; // IEEE 754: 2^-1022

    /// <summary>Encodes one value.</summary>
    /// <param name="value">Engineering value.</param>
    /// <param name="type">Type of the register or registers; a bit becomes a word 0 or 1. A bit field is refused: writing it would overwrite its neighbours.</param>
    /// <param name="order">Byte order of a type of two or four words; ignored for one word.</param>
    /// <param name="scale">Engineering value = raw × scale + offset; not 0.</param>
    /// <param name="offset">See <paramref name="scale"/>.</param>
    /// <param name="words">Receives the words; untouched when the result is false.</param>
    /// <param name="count">Number of words written: 1, 2 or 4, 0 when the result is false.</param>
    /// <returns>True when the value fits, rounded to the nearest raw step (halves to even).</returns>
    public static bool TryEncode(
        double value, WordType type, WordOrder order, double scale, double offset, Span<ushort> words, out int count)
    {
        count = 0;
        if (scale == 0)
        {
            return false;
        }

        double raw = (value - offset) / scale;
        int needed = WordTypes.WordCount(type);
        bool fits = double.IsFinite(raw) && TryPattern(raw, type, out ulong bits) && words.Length >= needed
            && WordAssembly.TrySplit(bits, order, words[..needed]);
        count = fits ? needed : 0;
        return fits;
    }

    private static bool TryPattern(double raw, WordType type, out ulong bits)
    {
        if (type is WordType.Float32 or WordType.Float64)
        {
            return TryFloat(raw, type, out bits);
        }

        bits = 0;
        double rounded = Math.Round(raw, MidpointRounding.ToEven);
        if (!Limits(type, out double min, out double max) || rounded < min || rounded > max)
        {
            return false;
        }

        var whole = (long)rounded;
        bits = type switch
        {
            WordType.Bcd16 => BcdCodec.Write(whole, 4),
            WordType.Bcd32 => BcdCodec.Write(whole, 8),
            _ => unchecked((ulong)whole), // Two's complement; the range was checked above.
        };
        return true;
    }

    private static bool Limits(WordType type, out double min, out double max)
    {
        (min, max) = type switch
        {
            WordType.Bit => (0, 1),
            WordType.UInt16 => (ushort.MinValue, ushort.MaxValue),
            WordType.Int16 => (short.MinValue, short.MaxValue),
            WordType.UInt32 => (uint.MinValue, uint.MaxValue),
            WordType.Int32 => (int.MinValue, int.MaxValue),
            WordType.UInt64 => (0, WordTypes.LargestWhole),
            WordType.Int64 => (-WordTypes.LargestWhole, WordTypes.LargestWhole),
            WordType.Bcd16 => (0, 9_999),
            WordType.Bcd32 => (0, 99_999_999),
            _ => (1.0, 0.0),
        };
        return min <= max;
    }

    /// <summary>A floating-point pattern, refused where the decoder would refuse it: overflow and subnormal.</summary>
    private static bool TryFloat(double raw, WordType type, out ulong bits)
    {
        if (type == WordType.Float64)
        {
            bits = BitConverter.DoubleToUInt64Bits(raw);
            return raw == 0 || Math.Abs(raw) >= MinNormalDouble;
        }

        var single = (float)raw;
        bits = BitConverter.SingleToUInt32Bits(single);
        return float.IsFinite(single) && (raw == 0 || Math.Abs((double)single) >= MinNormalSingle);
    }
}
