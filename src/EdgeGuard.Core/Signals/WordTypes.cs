namespace EdgeGuard.Core.Signals;

/// <summary>Facts about the set of <see cref="WordType"/> values.</summary>
public static class WordTypes
{
    /// <summary>
    /// Largest whole number of the 64-bit types: 2^53. Above it a double skips numbers, so a register that holds more is
    /// refused rather than rounded; a swapped order of a counter nearly always shows as such a number.
    /// </summary>
    public const long LargestWhole = 1L << 53;

    /// <summary>Number of registers a value takes: 1, 2 or 4; 0 for <see cref="WordType.None"/> and unknown types.</summary>
    public static int WordCount(WordType type) => type switch
    {
        WordType.Bit or WordType.UInt16 or WordType.Int16 or WordType.Bcd16 or WordType.BitField => 1,
        WordType.UInt32 or WordType.Int32 or WordType.Float32 or WordType.Bcd32 => 2,
        WordType.UInt64 or WordType.Int64 or WordType.Float64 => 4,
        _ => 0,
    };
}
