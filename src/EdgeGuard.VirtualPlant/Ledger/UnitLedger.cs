using EdgeGuard.VirtualPlant.Profiles;

namespace EdgeGuard.VirtualPlant.Ledger;

/// <summary>
/// The independent judge of one unit: sees every integration step of the true plant, takes its limits from the plant's
/// profile, and cannot be reached from the wire. Not thread-safe: guarded by the cabinet's lock.
/// </summary>
public sealed class UnitLedger(string unit, double ratedKw, LedgerLimits limits)
{
    /// <summary>Flow below this share of the minimum flow counts as gas that stands still.</summary>
    private const double StillShare = 0.1;

    private readonly double _poweredKw = ratedKw * limits.PoweredPercent / 100.0;

    private long _atMs;

    /// <summary>Highest true element temperature, °C.</summary>
    public double ElementMaxC { get; private set; } = double.NegativeInfinity;

    /// <summary>When it was reached first, ms of plant time.</summary>
    public long ElementMaxAtMs { get; private set; }

    /// <summary>Time powered, ms.</summary>
    public long PoweredMs { get; private set; }

    /// <summary>Flow under power.</summary>
    public FlowRecord Flow { get; } = new(limits.MinimumFlowKgPerHour);

    /// <summary>Cool-down rates.</summary>
    public CoolDownRecord CoolDown { get; } = new(limits.CoolDownKPerMin, StillShare * limits.MinimumFlowKgPerHour);

    /// <summary>Power on and off.</summary>
    public PowerRecord Power { get; } = new();

    /// <summary>Where the energy went.</summary>
    public EnergyRecord Energy { get; } = new();

    /// <summary>Takes one step of the plant.</summary>
    public void Observe(in LedgerSample sample)
    {
        _atMs = sample.TimeMs;
        if (sample.ElementC > ElementMaxC)
        {
            (ElementMaxC, ElementMaxAtMs) = (sample.ElementC, sample.TimeMs);
        }

        bool powered = sample.PowerKw > _poweredKw;
        PoweredMs += powered ? sample.StepMs : 0;
        Flow.Observe(in sample, powered);
        CoolDown.Observe(in sample, powered);
        Power.Observe(in sample, powered);
        Energy.Observe(in sample);
    }

    /// <summary>A copy of the figures, ready to be written.</summary>
    public UnitLedgerReport Report() => new()
    {
        Unit = unit,
        AtMs = _atMs,
        ElementMaxC = Rounded(double.IsFinite(ElementMaxC) ? ElementMaxC : 0.0),
        ElementMaxAtMs = ElementMaxAtMs,
        ElementTripC = limits.ElementTripC,
        ElementDestructionC = limits.ElementDestructionC,
        PoweredMs = PoweredMs,
        PowerMaxKw = Rounded(Power.MaxKw),
        MinimumFlowKgPerHour = limits.MinimumFlowKgPerHour,
        PoweredUnderMinimumFlowMs = Flow.PoweredUnderMinimumMs,
        LongestUnderMinimumFlowMs = Flow.LongestUnderMinimumMs,
        FlowReactions = [.. Flow.Reactions],
        CoolDownCapKPerMin = limits.CoolDownKPerMin,
        CoolDownLedMaxKPerMin = Rounded(CoolDown.LedMaxKPerMin),
        CoolDownLedMaxAtMs = CoolDown.LedMaxAtMs,
        CoolDownLedAboveCapMs = CoolDown.LedAboveCapMs,
        CoolDownForcedMaxKPerMin = Rounded(CoolDown.ForcedMaxKPerMin),
        CoolDownForcedMaxAtMs = CoolDown.ForcedMaxAtMs,
        CoolDownForcedAboveCapMs = CoolDown.ForcedAboveCapMs,
        EnergyInKj = Rounded(Energy.InKj),
        EnergyToGasKj = Rounded(Energy.GasKj),
        EnergyLostKj = Rounded(Energy.LostKj),
        EnergyStoredKj = Rounded(Energy.StoredKj),
        EnergyResidualKj = Rounded(Energy.ResidualKj),
        PoweredWithoutPermitMs = Power.PoweredWithoutPermitMs,
        BlowerLoweredUnderPower = Power.BlowerLoweredUnderPower,
        BlowerLoweredAtMs = Power.BlowerLoweredAtMs,
        PowerTransitions = [.. Power.Transitions],
        EntriesDropped = Flow.Dropped + Power.Dropped,
    };

    private static double Rounded(double value) => Math.Round(value, 3);
}
