using EdgeGuard.Core.Interlocks;
using EdgeGuard.Records.Journal;

namespace EdgeGuard.Records.Tests.Journal;

/// <summary>Fixed entries and events for the tests of the journal.</summary>
internal static class Sample
{
    public const long Utc = 1_767_225_600_000; // 2026-01-01T00:00:00Z

    public static JournalRun Run(long segmentBytes = JournalNames.SegmentBytes) =>
        new() { Id = "run-1", Version = "0.1.0", UtcNowMs = () => Utc, SegmentBytes = segmentBytes };

    public static JournalThreadOptions Options(int eventCapacity = 1024) =>
        new() { Run = Run(), UnitNames = ["N-1", "A-1"], ScanMs = 100, EventCapacity = eventCapacity, BackOffMinMs = 1, BackOffMaxMs = 5 };

    public static GuardEvent Trip(long sequence) => new()
    {
        Sequence = sequence,
        Scan = 1000 + sequence,
        UtcUnixMs = Utc + (100 * sequence),
        Unit = 0,
        Id = EventId.Trip,
        Function = FunctionId.Flow,
        Value = 69.3124,
        Limit = 86,
        Detail = 990,
    };

    public static void Write(JournalWriter writer, int lines)
    {
        var formatter = new GuardEventFormatter(["N-1", "A-1"], 100);
        for (int i = 1; i <= lines; i++)
        {
            writer.Append(formatter.Format(Trip(i)));
        }
    }

    /// <summary>A journal of 50 short lines with a clean stop at its end.</summary>
    public static FaultyStorage Fifty(long segmentBytes = JournalNames.SegmentBytes)
    {
        var storage = new FaultyStorage();
        using var writer = new JournalWriter(storage, Run(segmentBytes));
        writer.Open();
        for (int i = 1; i <= 47; i++)
        {
            writer.Append(new JournalEntry { Id = (int)ShellEventId.Note, UtcUnixMs = Utc + i, Person = "shift", Detail = i });
            writer.CommitLines();
            writer.CommitHead();
        }

        writer.Append(new JournalEntry { Id = (int)ShellEventId.CleanStop, UtcUnixMs = Utc });
        writer.CommitLines();
        writer.CommitHead();
        return storage;
    }
}
