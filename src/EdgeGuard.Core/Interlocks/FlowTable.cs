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

    /// <summary>Trip delay, ms; rounded up to whole scans.</summary>
    public required int DelayMs { get; init; }

    /// <summary>Flow to be proved before power, kg/h; above the limit, since a blower at fixed speed moves less mass when hot.</summary>
    public required double ProvingKgPerHour { get; init; }

    /// <summary>Time the flow must stay proved, ms.</summary>
    public required int PreFlowMs { get; init; }

    /// <summary>The same after a trip while the element is still hot, ms.</summary>
    public required int HotPreFlowMs { get; init; }
}
