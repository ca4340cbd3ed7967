using EdgeGuard.Core.Alarms;

namespace EdgeGuard.Records.Ring;

/// <summary>
/// One alarm in the ring. Its state is one word, written whole with each scan; who hid it and why stands behind a
/// sequence word, odd while it is written. Writing allocates nothing.
/// </summary>
internal static class RingAlarmWords
{
    public static void Write(RingMap map, long at, in AlarmPointStatus alarm)
    {
        int flags = (alarm.Condition ? RingLayout.AlarmConditionFlag : 0) | (alarm.IsChattering ? RingLayout.AlarmChatteringFlag : 0) | (alarm.IsStale ? RingLayout.AlarmStaleFlag : 0);
        long word = (long)alarm.State | ((long)alarm.Suppression << 8) | ((long)flags << 16) | ((long)alarm.ShelfSecondsLeft << 32);
        Volatile.Write(ref map.Word(at + RingLayout.AlarmStateAt), word);
        Volatile.Write(ref map.Word(at + RingLayout.AlarmAnnunciationsAt), alarm.Annunciations);
    }

    public static ScanRingAlarm Read(RingMap map, long at)
    {
        long word = Volatile.Read(ref map.Word(at + RingLayout.AlarmStateAt));
        long flags = word >> 16;
        return new ScanRingAlarm
        {
            State = (byte)(word & 0xFF),
            Suppression = (AlarmSuppression)(byte)((word >> 8) & 0xFF),
            Condition = (flags & RingLayout.AlarmConditionFlag) != 0,
            IsChattering = (flags & RingLayout.AlarmChatteringFlag) != 0,
            IsStale = (flags & RingLayout.AlarmStaleFlag) != 0,
            ShelfSecondsLeft = (int)(word >> 32),
            Annunciations = Volatile.Read(ref map.Word(at + RingLayout.AlarmAnnunciationsAt)),
        };
    }

    public static void WriteHidden(RingMap map, long at, ReadOnlySpan<char> person, ReadOnlySpan<char> reason)
    {
        ref long sequence = ref map.Word(at + RingLayout.AlarmSequenceAt);
        long before = sequence;
        Volatile.Write(ref sequence, before + 1);
        Interlocked.MemoryBarrier();
        Span<byte> slot = map.Span(at, RingLayout.AlarmBytes);
        RingText.Write(slot[RingLayout.AlarmPersonAt..RingLayout.AlarmReasonAt], person);
        RingText.Write(slot[RingLayout.AlarmReasonAt..], reason);
        Volatile.Write(ref sequence, before + 2);
    }

    /// <summary>Person and reason, empty when nobody ever hid it; null when they are written at this moment.</summary>
    public static (string Person, string Reason)? TryReadHidden(RingMap map, long at)
    {
        Span<byte> copy = stackalloc byte[RingLayout.AlarmBytes];
        ref long sequence = ref map.Word(at + RingLayout.AlarmSequenceAt);
        long before = Volatile.Read(ref sequence);
        map.Span(at, RingLayout.AlarmBytes).CopyTo(copy);
        Interlocked.MemoryBarrier(); // the copy is complete before the word is looked at again
        if (before % 2 != 0 || Volatile.Read(ref sequence) != before)
        {
            return null;
        }

        return (RingText.Read(copy[RingLayout.AlarmPersonAt..RingLayout.AlarmReasonAt]), RingText.Read(copy[RingLayout.AlarmReasonAt..]));
    }

    /// <summary>The counts of the header, two i32 a word.</summary>
    public static void WriteCounts(RingMap map, in ScanRingLive live)
    {
        Pair(map, 0, live.AlarmsHigh, live.AlarmsMedium);
        Pair(map, 1, live.AlarmsLow, live.AlarmsStanding);
        Pair(map, 2, live.AlarmsUnacknowledged, live.AlarmsShelved);
        Pair(map, 3, live.AlarmsSuppressed, live.AlarmsOutOfService);
        Pair(map, 4, live.AlarmsChattering, live.AlarmsStale);
    }

    public static void ReadCounts(RingMap map, ref ScanRingLive live)
    {
        (live.AlarmsHigh, live.AlarmsMedium) = Pair(map, 0);
        (live.AlarmsLow, live.AlarmsStanding) = Pair(map, 1);
        (live.AlarmsUnacknowledged, live.AlarmsShelved) = Pair(map, 2);
        (live.AlarmsSuppressed, live.AlarmsOutOfService) = Pair(map, 3);
        (live.AlarmsChattering, live.AlarmsStale) = Pair(map, 4);
    }

    private static void Pair(RingMap map, int word, long low, long high) =>
        Volatile.Write(ref map.Word(RingLayout.AlarmCountsAt + (8 * word)), Part(low) | (Part(high) << 32));

    private static (long Low, long High) Pair(RingMap map, int word)
    {
        long both = Volatile.Read(ref map.Word(RingLayout.AlarmCountsAt + (8 * word)));
        return (both & int.MaxValue, (both >> 32) & int.MaxValue);
    }

    private static long Part(long count) => Math.Clamp(count, 0, int.MaxValue);
}
