namespace EdgeGuard.VirtualPlant.Ledger;

/// <summary>The ledger of one unit as it is written; see <see cref="UnitLedger"/> and its records for the meanings.</summary>
public sealed record UnitLedgerReport
{
    /// <summary>Name of the unit.</summary>
    public required string Unit { get; init; }

    /// <summary>Plant time of the last step seen, ms.</summary>
    public required long AtMs { get; init; }

    /// <summary>Highest true element temperature, °C.</summary>
    public required double ElementMaxC { get; init; }

    /// <summary>When it was reached, ms.</summary>
    public required long ElementMaxAtMs { get; init; }

    /// <summary>Trip limit of the element, °C.</summary>
    public required double ElementTripC { get; init; }

    /// <summary>Temperature of destruction, °C.</summary>
    public required double ElementDestructionC { get; init; }

    /// <summary>Time powered, ms.</summary>
    public required long PoweredMs { get; init; }

    /// <summary>Highest power, kW.</summary>
    public required double PowerMaxKw { get; init; }

    /// <summary>Minimum flow judged by, kg/h.</summary>
    public required double MinimumFlowKgPerHour { get; init; }

    /// <summary>Time powered under it by the true flow, ms.</summary>
    public required long PoweredUnderMinimumFlowMs { get; init; }

    /// <summary>Longest unbroken such time, ms.</summary>
    public required long LongestUnderMinimumFlowMs { get; init; }

    /// <summary>Falls of the meter's register below the minimum, each with its reaction.</summary>
    public required IReadOnlyList<FlowReaction> FlowReactions { get; init; }

    /// <summary>Cap on the cool-down rate, K/min.</summary>
    public required double CoolDownCapKPerMin { get; init; }

    /// <summary>Highest led rate, K/min.</summary>
    public required double CoolDownLedMaxKPerMin { get; init; }

    /// <summary>When, ms.</summary>
    public required long CoolDownLedMaxAtMs { get; init; }

    /// <summary>Time above the cap while led, ms.</summary>
    public required long CoolDownLedAboveCapMs { get; init; }

    /// <summary>Highest rate forced by a trip, K/min.</summary>
    public required double CoolDownForcedMaxKPerMin { get; init; }

    /// <summary>When, ms.</summary>
    public required long CoolDownForcedMaxAtMs { get; init; }

    /// <summary>Time above the cap while forced, ms.</summary>
    public required long CoolDownForcedAboveCapMs { get; init; }

    /// <summary>Electrical energy since the start, kJ.</summary>
    public required double EnergyInKj { get; init; }

    /// <summary>Heat the gas has carried away, kJ.</summary>
    public required double EnergyToGasKj { get; init; }

    /// <summary>Heat lost to the hall, kJ.</summary>
    public required double EnergyLostKj { get; init; }

    /// <summary>Heat now stored in element and lining above the temperature of the hall, kJ.</summary>
    public required double EnergyStoredKj { get; init; }

    /// <summary>What the four above leave over, kJ; zero but for rounding.</summary>
    public required double EnergyResidualKj { get; init; }

    /// <summary>Time powered although heating was not allowed, ms.</summary>
    public required long PoweredWithoutPermitMs { get; init; }

    /// <summary>Removals during which the blower was lowered before power was off.</summary>
    public required int BlowerLoweredUnderPower { get; init; }

    /// <summary>First such moment, ms; −1 for none.</summary>
    public required long BlowerLoweredAtMs { get; init; }

    /// <summary>Power on and off.</summary>
    public required IReadOnlyList<PowerTransition> PowerTransitions { get; init; }

    /// <summary>Reactions and transitions beyond the kept number.</summary>
    public required long EntriesDropped { get; init; }
}
