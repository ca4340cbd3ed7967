namespace EdgeGuard.VirtualPlant.Ledger;

/// <summary>What the ledger sees of one integration step: power held during the step, all else at its end.</summary>
public readonly record struct LedgerSample
{
    /// <summary>End of the step, ms of plant time.</summary>
    public required long TimeMs { get; init; }

    /// <summary>Length of the step, ms.</summary>
    public required int StepMs { get; init; }

    /// <summary>True element temperature, °C.</summary>
    public required double ElementC { get; init; }

    /// <summary>Junction of the outlet thermocouple before any fault of its wiring, °C.</summary>
    public required double OutletC { get; init; }

    /// <summary>True mass flow, kg/h.</summary>
    public required double FlowKgPerHour { get; init; }

    /// <summary>Flow in the meter's register, kg/h.</summary>
    public required double MeterKgPerHour { get; init; }

    /// <summary>True electrical power, kW.</summary>
    public required double PowerKw { get; init; }

    /// <summary>Heat taken up by the gas, kW.</summary>
    public double GasKw { get; init; }

    /// <summary>Heat given to the hall, kW.</summary>
    public double LossKw { get; init; }

    /// <summary>Heat stored in element and lining above the temperature of the hall, kJ.</summary>
    public double StoredKj { get; init; }

    /// <summary>Blower demand in force, per cent.</summary>
    public required double BlowerPercent { get; init; }

    /// <summary>Whether heating is allowed.</summary>
    public required PermitState Permit { get; init; }

    /// <summary>Time of the last valid change of the permit token, ms of plant time.</summary>
    public required long TokenChangeMs { get; init; }
}
