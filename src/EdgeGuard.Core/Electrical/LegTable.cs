namespace EdgeGuard.Core.Electrical;

/// <summary>Settings of the trend of the legs.</summary>
public sealed record LegTable
{
    /// <summary>How the legs are connected.</summary>
    public required HeaterConnection Connection { get; init; }

    /// <summary>Resistance of their alloy over temperature.</summary>
    public required TemperatureFactorTable Alloy { get; init; }

    /// <summary>Length of a block, scans: whole firing cycles.</summary>
    public required int BlockScans { get; init; }

    /// <summary>Mean power of a block from which it counts, per cent of rated.</summary>
    public double DemandPercent { get; init; } = 20;

    /// <summary>The element may change by this within a block, K.</summary>
    public double SteadyK { get; init; } = 2;
}
