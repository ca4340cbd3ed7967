namespace EdgeGuard.Core.Thermal;

/// <summary>Settings of the band around the expected difference of element and outlet. Uncertainties are standard ones (one sigma).</summary>
public sealed record ModelBandTable
{
    /// <summary>Steady states of the healthy heater, flow rising, two at least; nothing is judged beyond their flows.</summary>
    public required IReadOnlyList<ModelPoint> Points { get; init; }

    /// <summary>Length of a block whose means are compared, scans; many firing cycles.</summary>
    public required int BlockScans { get; init; }

    /// <summary>Blocks in which nothing may have moved before a block is judged: longer than the lining takes to warm through.</summary>
    public required int SteadyBlocks { get; init; }

    /// <summary>Rated power, kW.</summary>
    public required double RatedPowerKw { get; init; }

    /// <summary>Means of element and outlet may move by this while steady, K.</summary>
    public double SteadyK { get; init; } = 2;

    /// <summary>Mean power may move by this while steady, per cent of rated.</summary>
    public double SteadyPowerPercent { get; init; } = 2;

    /// <summary>Mean flow may move by this while steady, per cent.</summary>
    public double SteadyFlowPercent { get; init; } = 5;

    /// <summary>Uncertainty of the power meter, per cent of the reading.</summary>
    public double PowerPercent { get; init; } = 1;

    /// <summary>Uncertainty of the flow meter, per cent of the reading.</summary>
    public double FlowPercent { get; init; } = 2;

    /// <summary>Uncertainty of each of the two temperatures, K.</summary>
    public double TemperatureK { get; init; } = 3;

    /// <summary>
    /// Uncertainty of the expected difference beyond what was read, per cent: heat capacity of the gas over temperature,
    /// loss, straight lines between the points.
    /// </summary>
    public double ModelPercent { get; init; } = 5;
}
