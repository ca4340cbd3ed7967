namespace EdgeGuard.Core.Interlocks;

/// <summary>Settings of ELEM or OUTL: a temperature with alarm and trip limit.</summary>
public sealed record TemperatureTable
{
    /// <summary>Alarm limit, °C.</summary>
    public required double AlarmC { get; init; }

    /// <summary>Trip limit, °C.</summary>
    public required double TripC { get; init; }

    /// <summary>Trip delay, ms; rounded up to whole scans.</summary>
    public required int DelayMs { get; init; }

    /// <summary>Hysteresis of both limits, K.</summary>
    public required double HysteresisK { get; init; }
}
