namespace EdgeGuard.Records.Recorder;

/// <summary>How the raw recording runs.</summary>
public sealed record RawTailOptions
{
    /// <summary>Folder of the recordings; created when missing.</summary>
    public required string Folder { get; init; }

    /// <summary>Run, configuration and shape.</summary>
    public required RawTailHeader Header { get; init; }

    /// <summary>Scans that can wait for the disk; a power of two. 256 at 100 ms are 25 s.</summary>
    public int Slots { get; init; } = 256;

    /// <summary>Bytes after which a new file begins, 64 MiB.</summary>
    public long FileBytes { get; init; } = 64L << 20;

    /// <summary>Bytes of all recordings together; the oldest files go first.</summary>
    public long TotalBytes { get; init; } = 2L << 30;

    /// <summary>Time between syncs, ms. Recording never decides, so a second may be lost with the power.</summary>
    public int SyncMs { get; init; } = 1_000;
}
