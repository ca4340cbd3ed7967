namespace EdgeGuard.Service.ReactionTimes;

/// <summary>What a site states about the way from a fault to the removal of power ("reaction" of a unit).</summary>
public sealed record ReactionOptions
{
    /// <summary>True when the site states it at all.</summary>
    public required bool Stated { get; init; }

    /// <summary>Mass of the heated wire, kg; NaN when not stated.</summary>
    public required double MassKg { get; init; }

    /// <summary>Specific heat of the wire, kJ/(kg K); NaN when not stated.</summary>
    public required double HeatCapacityKJPerKgK { get; init; }

    /// <summary>Diameter of the wire, mm; NaN when not stated.</summary>
    public required double WireMm { get; init; }

    /// <summary>Surface load of the wire at rated power, W/cm²; NaN when not stated.</summary>
    public required double SurfaceLoadWPerCm2 { get; init; }

    /// <summary>Density of the wire, kg/m³.</summary>
    public required double DensityKgPerM3 { get; init; }

    /// <summary>True when the element sensor sits on the wire; otherwise it is sheathed and no cover for dry fire.</summary>
    public required bool SensorOnWire { get; init; }

    /// <summary>Time constant of the element sensor, ms.</summary>
    public required int ElementLagMs { get; init; }

    /// <summary>Time constant of the outlet sensor at the flow limit, ms.</summary>
    public required int OutletLagMs { get; init; }

    /// <summary>Time constant of the flow meter, ms.</summary>
    public required int MeterDampingMs { get; init; }

    /// <summary>Time until the main contactor has opened, ms.</summary>
    public required int ContactorMs { get; init; }

    /// <summary>Answers lost in a row that are counted with.</summary>
    public required int LostAnswers { get; init; }

    /// <summary>Highest supply voltage, per cent of the rated one.</summary>
    public required double SupplyPercent { get; init; }

    /// <summary>Element over outlet gas at rated power, K; NaN when not stated.</summary>
    public required double ElementOverGasK { get; init; }
}
