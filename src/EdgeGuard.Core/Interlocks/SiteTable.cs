namespace EdgeGuard.Core.Interlocks;

/// <summary>Immutable configuration of everything one scan thread steps.</summary>
public sealed record SiteTable
{
    /// <summary>Name of the site.</summary>
    public required string Name { get; init; }

    /// <summary>Scan period, ms.</summary>
    public required int ScanMs { get; init; }

    /// <summary>Limit of the shared supply, kW; infinite when not configured.</summary>
    public double SupplyLimitKw { get; init; } = double.PositiveInfinity;

    /// <summary>A journal that cannot be written for this long shuts all units down in a controlled way, ms.</summary>
    public int JournalFailureMs { get; init; } = 10_000;

    /// <summary>Number of words of each poll block.</summary>
    public required IReadOnlyList<int> BlockWordCounts { get; init; }

    /// <summary>Units in the order in which they are stepped.</summary>
    public required IReadOnlyList<UnitTable> Units { get; init; }
}
