namespace EdgeGuard.Core.Thermal;

/// <summary>Settings of the ledger of thermal stress.</summary>
public sealed record StressTable
{
    /// <summary>Scan period, s.</summary>
    public required double ScanSeconds { get; init; }

    /// <summary>A rise or fall smaller than this is no cycle, K.</summary>
    public double CycleK { get; init; } = 50;

    /// <summary>Cap on the cool-down rate, K/min: faster is counted as excess.</summary>
    public required double CapKPerMin { get; init; }

    /// <summary>Lower edges of the temperature bands, °C, rising; below the first nothing is counted.</summary>
    public IReadOnlyList<double> BandsC { get; init; } = [300, 500, 700, 900, 1000, 1100, 1200];
}
