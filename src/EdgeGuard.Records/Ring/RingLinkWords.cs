using System.Runtime.InteropServices;

namespace EdgeGuard.Records.Ring;

/// <summary>The figures of a link as words of the ring, in the order of <see cref="LinkFigure"/>, written and read one by one.</summary>
internal static class RingLinkWords
{
    public static void Write(RingMap map, long at, ReadOnlySpan<long> figures)
    {
        Span<long> words = Words(map, at);
        for (int i = 0; i < words.Length; i++)
        {
            Volatile.Write(ref words[i], figures[i]);
        }
    }

    public static void Read(RingMap map, long at, Span<long> figures)
    {
        Span<long> words = Words(map, at);
        for (int i = 0; i < words.Length; i++)
        {
            figures[i] = Volatile.Read(ref words[i]);
        }
    }

    // The words of a link are aligned to 64 bytes (RingLayout), so each store and load is whole.
    private static Span<long> Words(RingMap map, long at) => MemoryMarshal.Cast<byte, long>(map.Span(at, LinkFigureTexts.Count * sizeof(long)));
}
