namespace EdgeGuard.VirtualPlant.Electrical;

/// <summary>What flows in the three-wire circuit while its switches stand still. Squares, since they are averaged over time.</summary>
public readonly record struct CircuitFlows
{
    /// <summary>Squares of the line currents, A².</summary>
    public ThreePhase CurrentSquaredA2 { get; init; }

    /// <summary>Squares of the voltages from each line to the neutral, measured before the contactor, V².</summary>
    public ThreePhase VoltageSquaredV2 { get; init; }

    /// <summary>Power in the load, kW.</summary>
    public double PowerKw { get; init; }
}
