namespace EdgeGuard.Core.Interlocks;

/// <summary>Settings of FLOW, minimum flow before power.</summary>
public sealed record FlowTable
{
    /// <summary>Trip when the flow is below this, kg/h.</summary>
    public required double LimitKgPerHour { get; init; }

    /// <summary>
    /// Limit while heat is stored and power is proved off, kg/h: the blower is eased down for after-cooling and moves
    /// less than power would need. NaN: half of <see cref="LimitKgPerHour"/>.
    /// </summary>
    public double AfterCoolingKgPerHour { get; init; } = double.NaN;

    /// <summary>A flow that was below its limit is there again only this far above it, kg/h.</summary>
    public double HysteresisKgPerHour { get; init; }

    /// <summary>
    /// Minimum flow over the higher of led setpoint and element temperature, both rising; straight lines in between,
    /// the first and last flow outside. Empty: none.
    /// </summary>
    public IReadOnlyList<FlowCurvePoint> Curve { get; init; } = [];

    /// <summary>The flow must also carry the power away below the element's trip temperature: P/Δh.</summary>
    public bool PowerTerm { get; init; }

    /// <summary>Inlet temperature that counts where the signal is not fitted or not good, °C: the highest it can be.</summary>
    public double InletHighestC { get; init; } = 60;

    /// <summary>Heat that wire and lining take up, kJ/K; lessens the power of P/Δh while the element rises, at the ramp rate at most.</summary>
    public double StoredHeatKjPerK { get; init; }

    /// <summary>
    /// A flow too low for the power alone lowers the output limit to what it supports and trips only after this time,
    /// ms; 0 or no command for the output limit: it trips after <see cref="DelayMs"/>.
    /// </summary>
    public int SetbackMs { get; init; }

    /// <summary>Trip delay, ms; rounded up to whole scans.</summary>
    public required int DelayMs { get; init; }

    /// <summary>Flow to be proved before power, kg/h; above the limit, since a blower at fixed speed moves less mass when hot.</summary>
    public required double ProvingKgPerHour { get; init; }

    /// <summary>Time the flow must stay proved, ms.</summary>
    public required int PreFlowMs { get; init; }

    /// <summary>The same after a trip while the element is still hot, ms.</summary>
    public required int HotPreFlowMs { get; init; }
}
