namespace EdgeGuard.Records.Journal;

/// <summary>How the journal thread runs.</summary>
public sealed record JournalThreadOptions
{
    /// <summary>Facts of the run.</summary>
    public required JournalRun Run { get; init; }

    /// <summary>Unit names in the order of the site table.</summary>
    public required IReadOnlyList<string> UnitNames { get; init; }

    /// <summary>Scan period, ms.</summary>
    public required int ScanMs { get; init; }

    /// <summary>
    /// Told each event of the core once its line is written; null for nobody. Runs on the journal thread, so it must
    /// not wait.
    /// </summary>
    public Action<JournalEntry>? Written { get; init; }

    /// <summary>Events of the core that can wait; a power of two.</summary>
    public int EventCapacity { get; init; } = 16_384;

    /// <summary>Entries of the shell that can wait.</summary>
    public int EntryCapacity { get; init; } = 4_096;

    /// <summary>A write the disk has not finished after this time counts as failing, ms.</summary>
    public int StallMs { get; init; } = 3_000;

    /// <summary>First wait after a failed write, ms; doubles up to <see cref="BackOffMaxMs"/>.</summary>
    public int BackOffMinMs { get; init; } = 50;

    /// <summary>Longest wait after a failed write, ms.</summary>
    public int BackOffMaxMs { get; init; } = 2_000;
}
