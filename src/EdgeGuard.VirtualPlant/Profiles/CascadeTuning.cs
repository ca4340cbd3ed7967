namespace EdgeGuard.VirtualPlant.Profiles;

/// <summary>Tuning of a cascade; see <see cref="Cabinets.CascadeLoop"/>.</summary>
public sealed record CascadeTuning
{
    /// <summary>Gain of the inner loop, per cent per K of the element.</summary>
    public required double InnerGainPercentPerK { get; init; }

    /// <summary>Integral time of the inner loop, s.</summary>
    public required double InnerIntegralS { get; init; }

    /// <summary>Gain of the outer loop, K of the element per K of the outlet.</summary>
    public required double OuterGain { get; init; }

    /// <summary>Integral time of the outer loop, s.</summary>
    public required double OuterIntegralS { get; init; }

    /// <summary>Rise of the element over the inlet per rise of the outlet over the inlet that is expected, 1.</summary>
    public required double ElementPerOutlet { get; init; }

    /// <summary>Lag of the outlet sensor that the outer loop allows for, s.</summary>
    public required double ReferenceLagS { get; init; }

    /// <summary>Highest setpoint the outer loop may give to the inner one, °C.</summary>
    public required double ElementMaxC { get; init; }
}
