namespace EdgeGuard.VirtualPlant.Ledger;

/// <summary>The whole ledger: the answer to the command `ledger`, one JSON line.</summary>
public sealed record LedgerReport
{
    /// <summary>Plant time, ms since the start.</summary>
    public required long AtMs { get; init; }

    /// <summary>The plant's clock at its start, ISO 8601 UTC.</summary>
    public required string StartUtc { get; init; }

    /// <summary>The shared supply.</summary>
    public required SiteLedgerReport Site { get; init; }

    /// <summary>The units in the order of the command line.</summary>
    public required IReadOnlyList<UnitLedgerReport> Units { get; init; }
}
