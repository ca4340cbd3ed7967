using EdgeGuard.Core.Interlocks;

namespace EdgeGuard.Records.Ring;

/// <summary>What a ring is made for.</summary>
public sealed record ScanRingOptions
{
    /// <summary>The ring file; replaced at each start. Best on a memory file system: then no disk ever slows the scan.</summary>
    public required string Path { get; init; }

    /// <summary>The site: names and scan period stand in the ring, so that a reader needs no configuration.</summary>
    public required SiteTable Site { get; init; }

    /// <summary>SHA-256 of the configuration, 32 bytes.</summary>
    public required ReadOnlyMemory<byte> SiteDigest { get; init; }

    /// <summary>Run id, at most 40 ASCII characters, the same as in the journal.</summary>
    public required string RunId { get; init; }

    /// <summary>UTC of the start, ms since 1970-01-01.</summary>
    public required long StartUtcUnixMs { get; init; }

    /// <summary>Names of the links to the devices, in the order in which their figures are written.</summary>
    public IReadOnlyList<string> LinkNames { get; init; } = [];

    /// <summary>Scans kept.</summary>
    public int ScanCapacity { get; init; } = 1024;

    /// <summary>Events kept.</summary>
    public int EventCapacity { get; init; } = 4096;
}
