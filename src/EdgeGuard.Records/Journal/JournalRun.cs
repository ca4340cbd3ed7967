namespace EdgeGuard.Records.Journal;

/// <summary>Facts of the run that opens the journal.</summary>
public sealed record JournalRun
{
    /// <summary>Run id, the same in ring and recording; letters, digits and hyphens.</summary>
    public required string Id { get; init; }

    /// <summary>Program version for the entry "run-started".</summary>
    public required string Version { get; init; }

    /// <summary>UTC for entries of the shell, ms since 1970-01-01; in lock-step the conductor's time.</summary>
    public required Func<long> UtcNowMs { get; init; }

    /// <summary>Bytes after which a segment is closed.</summary>
    public long SegmentBytes { get; init; } = JournalNames.SegmentBytes;
}
