using EdgeGuard.Core.Thermal;

namespace EdgeGuard.Core.Interlocks;

/// <summary>Settings of SENS beyond its delay: sensors that read a good value and cannot be right.</summary>
public sealed record SensorTable
{
    /// <summary>A value that stays bit for bit the same for this long while its excitation changed is frozen, ms; 0: not judged.</summary>
    public int FrozenMs { get; init; }

    /// <summary>Change of power (of rated) or blower demand that is an excitation, per cent.</summary>
    public double ExcitationPercent { get; init; } = 20;

    /// <summary>Length of a window over which the scatter of a sensor is learnt and judged, ms; 0: not judged.</summary>
    public int NoiseMs { get; init; }

    /// <summary>A scatter below this share of the learnt one is a frozen sensor, per cent.</summary>
    public double NoisePercent { get; init; } = 10;

    /// <summary>Greatest slope of a temperature that physics allows, K/s; infinite: not judged.</summary>
    public double SlopeMaxKPerSecond { get; init; } = double.PositiveInfinity;

    /// <summary>Band around the difference of element and outlet that power and flow let expect; null: not judged.</summary>
    public ModelBandTable? Model { get; init; }
}
