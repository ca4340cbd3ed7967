namespace EdgeGuard.VirtualPlant.Ledger;

/// <summary>The ledger of the shared supply as it is written.</summary>
public sealed record SiteLedgerReport
{
    /// <summary>Limit of the site, kW.</summary>
    public required double SiteLimitKw { get; init; }

    /// <summary>Highest sum of all units, kW.</summary>
    public required double SumMaxKw { get; init; }

    /// <summary>When, ms of plant time.</summary>
    public required long SumMaxAtMs { get; init; }

    /// <summary>Time above the limit, ms.</summary>
    public required long AboveLimitMs { get; init; }
}
