namespace EdgeGuard.Records.Ring;

/// <summary>
/// The name of a person in the ring, cut to its place at a whole character. Guarded by a sequence word like a record: odd
/// while it is written. Writing allocates nothing.
/// </summary>
internal static class RingPersons
{
    public static void Write(RingMap map, long at, ReadOnlySpan<char> person)
    {
        ref long sequence = ref map.Word(at);
        long before = sequence;
        Volatile.Write(ref sequence, before + 1);
        Interlocked.MemoryBarrier();
        RingText.Write(map.Span(at, RingLayout.PersonBytes)[RingLayout.PersonLengthAt..], person);
        Volatile.Write(ref sequence, before + 2);
    }

    /// <summary>The name; empty when there never was one, null when it is written at this moment.</summary>
    public static string? TryRead(RingMap map, long at)
    {
        Span<byte> copy = stackalloc byte[RingLayout.PersonBytes];
        ref long sequence = ref map.Word(at);
        long before = Volatile.Read(ref sequence);
        map.Span(at, RingLayout.PersonBytes).CopyTo(copy);
        Interlocked.MemoryBarrier(); // the copy is complete before the word is looked at again
        if (before % 2 != 0 || Volatile.Read(ref sequence) != before)
        {
            return null;
        }

        return RingText.Read(copy[RingLayout.PersonLengthAt..]);
    }
}
