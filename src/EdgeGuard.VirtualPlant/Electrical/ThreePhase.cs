namespace EdgeGuard.VirtualPlant.Electrical;

/// <summary>One figure for each of three phases or legs.</summary>
/// <param name="L1">First phase.</param>
/// <param name="L2">Second phase.</param>
/// <param name="L3">Third phase.</param>
public readonly record struct ThreePhase(double L1, double L2, double L3)
{
    /// <summary>The same figure in all three.</summary>
    public static ThreePhase All(double value) => new(value, value, value);

    /// <summary>Each figure times a factor.</summary>
    public ThreePhase Times(double factor) => new(L1 * factor, L2 * factor, L3 * factor);

    /// <summary>Sum, phase by phase.</summary>
    public ThreePhase Plus(ThreePhase other) => new(L1 + other.L1, L2 + other.L2, L3 + other.L3);

    /// <summary>Square root of each.</summary>
    public ThreePhase Root() => new(Math.Sqrt(L1), Math.Sqrt(L2), Math.Sqrt(L3));

    /// <summary>A copy with the figure of some phases multiplied.</summary>
    public ThreePhase Scaled(Phases phases, double factor) => new(
        phases.HasFlag(Phases.L1) ? L1 * factor : L1,
        phases.HasFlag(Phases.L2) ? L2 * factor : L2,
        phases.HasFlag(Phases.L3) ? L3 * factor : L3);
}
