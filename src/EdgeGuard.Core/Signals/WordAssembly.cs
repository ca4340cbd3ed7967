namespace EdgeGuard.Core.Signals;

/// <summary>
/// One, two or four 16-bit registers as one pattern of up to 64 bits and back. The Modbus Application Protocol
/// specification V1.1b3 (4.2) fixes the byte order inside one register only; which register comes first, and whether a
/// device swaps the bytes, is the device maker's choice. So both questions are answered by the configured order.
/// </summary>
internal static class WordAssembly
{
    private const int WordBits = 16;

    /// <summary>Joins registers, most significant first in the result. False when the order is not configured.</summary>
    public static bool TryJoin(ReadOnlySpan<ushort> words, WordOrder order, out ulong bits)
    {
        bits = 0;
        if (!IsConfigured(order) && words.Length > 1)
        {
            return false;
        }

        for (int i = 0; i < words.Length; i++)
        {
            ushort word = words[Place(i, words.Length, order)];
            bits = (bits << WordBits) | (SwapsBytes(order) && words.Length > 1 ? Swap(word) : word);
        }

        return true;
    }

    /// <summary>Splits a pattern into all registers of <paramref name="words"/>. False when the order is not configured.</summary>
    public static bool TrySplit(ulong bits, WordOrder order, Span<ushort> words)
    {
        if (!IsConfigured(order) && words.Length > 1)
        {
            return false;
        }

        for (int i = 0; i < words.Length; i++)
        {
            var word = (ushort)((bits >> (WordBits * (words.Length - 1 - i))) & ushort.MaxValue);
            words[Place(i, words.Length, order)] = SwapsBytes(order) && words.Length > 1 ? Swap(word) : word;
        }

        return true;
    }

    /// <summary>Where the i-th most significant word stands.</summary>
    private static int Place(int i, int count, WordOrder order) =>
        order is WordOrder.Cdab or WordOrder.Dcba ? count - 1 - i : i;

    private static bool SwapsBytes(WordOrder order) => order is WordOrder.Badc or WordOrder.Dcba;

    private static bool IsConfigured(WordOrder order) => order is >= WordOrder.Abcd and <= WordOrder.Dcba;

    private static ushort Swap(ushort word) => (ushort)((word >> 8) | ((word & 0xFF) << 8));
}
