namespace EdgeGuard.VirtualPlant.Cabinets;

/// <summary>True values of one cabinet at one moment.</summary>
public sealed record CabinetTruth
{
    /// <summary>Name of the unit.</summary>
    public required string Unit { get; init; }

    /// <summary>Plant time, ms.</summary>
    public required long AtMs { get; init; }

    /// <summary>True element temperature, °C.</summary>
    public required double ElementC { get; init; }

    /// <summary>Element temperature in the controller's register, °C.</summary>
    public required double ElementIndicatedC { get; init; }

    /// <summary>Inner lining, °C.</summary>
    public required double LiningC { get; init; }

    /// <summary>Gas as it leaves the element, °C.</summary>
    public required double GasC { get; init; }

    /// <summary>Outlet temperature in the controller's register, °C.</summary>
    public required double OutletIndicatedC { get; init; }

    /// <summary>Working setpoint, °C.</summary>
    public required double SetpointC { get; init; }

    /// <summary>Controller output, per cent.</summary>
    public required double OutputPercent { get; init; }

    /// <summary>True power, kW.</summary>
    public required double PowerKw { get; init; }

    /// <summary>Current of line 1, true RMS of the last whole firing cycle, A.</summary>
    public required double CurrentL1A { get; init; }

    /// <summary>Current of line 2, true RMS of the last whole firing cycle, A.</summary>
    public required double CurrentL2A { get; init; }

    /// <summary>Current of line 3, true RMS of the last whole firing cycle, A.</summary>
    public required double CurrentL3A { get; init; }

    /// <summary>Voltage from line 1 to neutral, true RMS of the last whole firing cycle, V.</summary>
    public required double VoltageL1V { get; init; }

    /// <summary>Voltage from line 2 to neutral, true RMS of the last whole firing cycle, V.</summary>
    public required double VoltageL2V { get; init; }

    /// <summary>Voltage from line 3 to neutral, true RMS of the last whole firing cycle, V.</summary>
    public required double VoltageL3V { get; init; }

    /// <summary>Earth leakage current, true RMS of the last whole firing cycle, mA.</summary>
    public required double LeakageMa { get; init; }

    /// <summary>True mass flow, kg/h.</summary>
    public required double FlowKgPerHour { get; init; }

    /// <summary>Flow in the meter's register, kg/h.</summary>
    public required double MeterKgPerHour { get; init; }

    /// <summary>Blower demand in force, per cent.</summary>
    public required double BlowerPercent { get; init; }

    /// <summary>Whether heating is allowed.</summary>
    public required Ledger.PermitState Permit { get; init; }

    /// <summary>True while the main contacts are closed.</summary>
    public required bool ContactorClosed { get; init; }

    /// <summary>Position of the key.</summary>
    public required KeyPosition Key { get; init; }
}
