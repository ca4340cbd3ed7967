using EdgeGuard.VirtualPlant.Electrical;

namespace EdgeGuard.VirtualPlant.Profiles;

/// <summary>
/// Everything that is fixed about one heater and its cabinet: the physics, the controller's tuning, and the limits
/// by which the ledger judges. The figures of the built-in profiles are invented and physically consistent.
/// </summary>
public sealed record PlantProfile
{
    /// <summary>Name of the unit, as used on the command line.</summary>
    public required string Name { get; init; }

    /// <summary>Process gas.</summary>
    public required GasKind Gas { get; init; }

    /// <summary>Gas temperature at the heater's inlet, °C.</summary>
    public required double InletC { get; init; }

    /// <summary>Setpoint of normal operation, °C.</summary>
    public required double SetpointC { get; init; }

    /// <summary>Rated electrical power at nominal supply voltage, kW.</summary>
    public required double RatedKw { get; init; }

    /// <summary>Nominal supply voltage, line to line, V.</summary>
    public double SupplyV { get; init; } = 400.0;

    /// <summary>How the legs of the element are connected.</summary>
    public LoadConnection Connection { get; init; } = LoadConnection.Star;

    /// <summary>Lines the controller switches: 3, or 2 with the third connected straight through.</summary>
    public int ControlledLegs { get; init; } = 3;

    /// <summary>Firing cycle over which the cabinet measures, ms: a burst cycle, or one mains period with phase angle.</summary>
    public required int FiringCycleMs { get; init; }

    /// <summary>Earth leakage of the sound element while it is live, mA per kW rated.</summary>
    public double LeakageMaPerKw { get; init; } = 0.1;

    /// <summary>Mass flow at the run demand of the blower with the outlet at the setpoint, kg/h.</summary>
    public required double HotFlowKgPerHour { get; init; }

    /// <summary>Hot over cold mass flow of the blower at fixed speed, outlet at the setpoint over outlet at ambient, 1.</summary>
    public required double HotToColdFlow { get; init; }

    /// <summary>Blower demand of normal operation, per cent.</summary>
    public double BlowerRunPercent { get; init; } = 80.0;

    /// <summary>Mass of the element's wire, kg.</summary>
    public required double WireKg { get; init; }

    /// <summary>Specific heat of the wire, kJ/(kg K).</summary>
    public required double WireKjPerKgK { get; init; }

    /// <summary>Surface of the wire, m².</summary>
    public required double WireM2 { get; init; }

    /// <summary>Heat capacity of the inner lining, kJ/K.</summary>
    public required double LiningKjPerK { get; init; }

    /// <summary>Linear coupling between element and lining, W/K.</summary>
    public required double CouplingWPerK { get; init; }

    /// <summary>Loss of the lining to ambient, W/K.</summary>
    public required double LossWPerK { get; init; }

    /// <summary>
    /// Effective emissivity between the whole wire surface and the lining, 1. Far below that of an oxidised wire since
    /// the turns of a coil mostly see each other; one figure for all profiles, chosen
    /// so that the figures of the two-lump reference that depend on it all come out.
    /// </summary>
    public double EffectiveEmissivity { get; init; } = 0.05;

    /// <summary>Number of transfer units of the element at the reference flow, 1; UA goes with flow to the power 0.6.</summary>
    public double Ntu { get; init; } = 2.3;

    /// <summary>Flow at which <see cref="Ntu"/> and <see cref="OutletTauS"/> hold, kg/h.</summary>
    public required double ReferenceFlowKgPerHour { get; init; }

    /// <summary>Lag of the outlet thermocouple at the reference flow, s; goes with flow to the power −0.5.</summary>
    public double OutletTauS { get; init; } = 5.0;

    /// <summary>Lag of the outlet thermocouple in still gas, where conduction and radiation take over, s.</summary>
    public double OutletStillTauS { get; init; } = 20.0;

    /// <summary>Time constant at which the stagnant outlet duct cools to ambient, s.</summary>
    public double StagnantDuctTauS { get; init; } = 60.0;

    /// <summary>Lag of the element thermocouple, s.</summary>
    public double ElementTauS { get; init; } = 1.0;

    /// <summary>Damping of the flow meter, s.</summary>
    public double MeterDampingS { get; init; } = 0.8;

    /// <summary>Range of the flow meter, kg/h; it reads zero below 3 % of it.</summary>
    public double MeterRangeKgPerHour { get; init; } = 250.0;

    /// <summary>Time constant of the blower's speed, s.</summary>
    public double BlowerTauS { get; init; } = 1.5;

    /// <summary>Time the contactor takes to close or to open, ms.</summary>
    public int ContactorMs { get; init; } = 40;

    /// <summary>Watchdog of the permit token in the cabinet, ms.</summary>
    public required int WatchdogMs { get; init; }

    /// <summary>Gain of a single-loop controller, per cent per K.</summary>
    public double GainPercentPerK { get; init; }

    /// <summary>Integral time of a single-loop controller, s.</summary>
    public double IntegralS { get; init; }

    /// <summary>Tuning of a cascade over the element; null for a single loop with the two figures above.</summary>
    public CascadeTuning? Cascade { get; init; }

    /// <summary>Ramp of the cabinet's own programme (key on LOCAL), K/min.</summary>
    public required double LocalRampKPerMin { get; init; }

    /// <summary>Highest setpoint the controller accepts, °C.</summary>
    public required double SetpointMaxC { get; init; }

    /// <summary>Temperature of the hall, °C.</summary>
    public double AmbientC { get; init; } = 20.0;

    /// <summary>Limits of the ledger.</summary>
    public required LedgerLimits Limits { get; init; }

    /// <summary>Mass flow at full speed with the outlet at ambient, kg/h.</summary>
    public double ColdFullFlowKgPerHour => HotFlowKgPerHour / HotToColdFlow / (BlowerRunPercent / 100.0);
}
