namespace EdgeGuard.VirtualPlant.Profiles;

/// <summary>What the ledger judges by; stands beside the plant, never in the guard's configuration.</summary>
public sealed record LedgerLimits
{
    /// <summary>Temperature at which the element is destroyed, °C.</summary>
    public required double ElementDestructionC { get; init; }

    /// <summary>Trip limit of the element, °C; printed beside the highest element temperature.</summary>
    public required double ElementTripC { get; init; }

    /// <summary>Minimum mass flow under power, kg/h.</summary>
    public required double MinimumFlowKgPerHour { get; init; }

    /// <summary>Cap on the cool-down rate of the outlet gas, K/min; common practice, no source.</summary>
    public double CoolDownKPerMin { get; init; } = 30.0;

    /// <summary>Power above this share of the rated power counts as powered, per cent.</summary>
    public double PoweredPercent { get; init; } = 3.0;
}
