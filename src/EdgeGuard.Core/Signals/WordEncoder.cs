namespace EdgeGuard.Core.Signals;

/// <summary>
/// An engineering value → the words of a write, the inverse of <see cref="SignalDecoder"/>. A value that the type
/// cannot carry is refused, never saturated or wrapped: a setpoint of 70 °C too many must not become one of 6 °C
/// too few. What this refuses is not written, and a permit that is not written expires in the cabinet.
/// </summary>
public static class WordEncoder
{
    private const double MinNormalSingle = 1.17549435082228751e-38; // IEEE 754: 2^-126

    /// <summary>Encodes one value.</summary>
    /// <param name="value">Engineering value.</param>
    /// <param name="type">Type of the register or registers; a bit becomes a word 0 or 1.</param>
    /// <param name="order">Byte order of a 32-bit type; ignored for one word.</param>
    /// <param name="scale">Engineering value = raw × scale + offset; not 0.</param>
    /// <param name="offset">See <paramref name="scale"/>.</param>
    /// <param name="words">Receives the words; untouched when the result is false.</param>
    /// <param name="count">Number of words written: 1 or 2, 0 when the result is false.</param>
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
        if (!double.IsFinite(raw) || !TryPattern(raw, type, out uint bits))
        {
            return false;
        }

        return type is WordType.Bit or WordType.UInt16 or WordType.Int16
            ? TryOneWord(bits, words, out count)
            : TryTwoWords(bits, order, words, out count);
    }

    private static bool TryPattern(double raw, WordType type, out uint bits)
    {
        if (type == WordType.Float32)
        {
            return TrySingle(raw, out bits);
        }

        bits = 0;
        double rounded = Math.Round(raw, MidpointRounding.ToEven);
        if (!Limits(type, out double min, out double max) || rounded < min || rounded > max)
        {
            return false;
        }

        bits = unchecked((uint)(long)rounded); // Two's complement; the range was checked above.
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
            _ => (1.0, 0.0),
        };
        return min <= max;
    }

    /// <summary>Single precision, refused where the decoder would refuse it: overflow and subnormal.</summary>
    private static bool TrySingle(double raw, out uint bits)
    {
        var single = (float)raw;
        bits = BitConverter.SingleToUInt32Bits(single);
        return float.IsFinite(single) && (raw == 0 || Math.Abs((double)single) >= MinNormalSingle);
    }

    private static bool TryOneWord(uint bits, Span<ushort> words, out int count)
    {
        count = words.Length >= 1 ? 1 : 0;
        if (count == 1)
        {
            words[0] = (ushort)(bits & 0xFFFF);
        }

        return count == 1;
    }

    private static bool TryTwoWords(uint bits, WordOrder order, Span<ushort> words, out int count)
    {
        count = 0;
        if (words.Length < 2 || !WordAssembly.TrySplit(bits, order, out ushort first, out ushort second))
        {
            return false;
        }

        words[0] = first;
        words[1] = second;
        count = 2;
        return true;
    }
}
