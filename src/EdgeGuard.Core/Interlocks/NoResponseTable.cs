namespace EdgeGuard.Core.Interlocks;

/// <summary>Settings of NORS: power flows, the element does not answer.</summary>
public sealed record NoResponseTable
{
    /// <summary>Power above which an answer is expected, per cent of rated power.</summary>
    public required double PowerPercent { get; init; }

    /// <summary>How long such power must flow, ms.</summary>
    public required int DelayMs { get; init; }

    /// <summary>Slope of the element below which it does not answer, K/min, while the setpoint is led up.</summary>
    public required double SlopeKPerMin { get; init; }

    /// <summary>Slope at or below which the element falls while powered: reversed or displaced sensor, K/min (negative).</summary>
    public required double FallingKPerMin { get; init; }
}
