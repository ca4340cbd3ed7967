namespace EdgeGuard.Core.Thermal;

/// <summary>Settings of the energy balance of one heater. Uncertainties are standard ones (one sigma).</summary>
public sealed record EnergyBalanceTable
{
    /// <summary>The process gas.</summary>
    public required Gas Gas { get; init; }

    /// <summary>Rated power, kW.</summary>
    public required double RatedPowerKw { get; init; }

    /// <summary>Length of a block whose means are balanced, scans; many firing cycles.</summary>
    public required int BlockScans { get; init; }

    /// <summary>Scan period, s.</summary>
    public required double ScanSeconds { get; init; }

    /// <summary>Heat capacity that follows the element (wire and the lining that warms with it), kJ/K.</summary>
    public required double StoredKJPerK { get; init; }

    /// <summary>Temperature around the heater, °C.</summary>
    public double AmbientC { get; init; } = 25;

    /// <summary>Most loss per kelvin that may be learnt, kW/K: more is no loss but a fault.</summary>
    public required double LossMaxKwPerK { get; init; }

    /// <summary>Element and outlet may change by this in a quasi-steady block, K.</summary>
    public double SteadyK { get; init; } = 2;

    /// <summary>Flow may vary by this in a quasi-steady block, per cent of its mean.</summary>
    public double SteadyFlowPercent { get; init; } = 5;

    /// <summary>Blocks that must be learnt from before the balance judges.</summary>
    public int LearnBlocks { get; init; } = 30;

    /// <summary>Uncertainty of the power meter, per cent of the reading.</summary>
    public double PowerPercent { get; init; } = 1;

    /// <summary>Uncertainty of the flow meter, per cent of the reading.</summary>
    public double FlowPercent { get; init; } = 2;

    /// <summary>Uncertainty of the gas temperatures at inlet and outlet, K.</summary>
    public double TemperatureK { get; init; } = 3;

    /// <summary>Uncertainty of the stored heat, per cent: the lining does not follow the wire exactly.</summary>
    public double StoredPercent { get; init; } = 50;

    /// <summary>Uncertainty of the learnt loss beyond its own scatter, per cent.</summary>
    public double LossPercent { get; init; } = 20;
}
