namespace EdgeGuard.VirtualPlant.Cabinets;

/// <summary>True values of all cabinets: the answer to the command `state`, one JSON line.</summary>
public sealed record PlantTruth
{
    /// <summary>Plant time, ms since the start.</summary>
    public required long AtMs { get; init; }

    /// <summary>The units in the order of the command line.</summary>
    public required IReadOnlyList<CabinetTruth> Units { get; init; }
}
