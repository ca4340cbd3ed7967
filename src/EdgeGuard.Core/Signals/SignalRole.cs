namespace EdgeGuard.Core.Signals;

/// <summary>What a signal means to the unit. The number is the index of the signal in a <see cref="ScanImage"/>.</summary>
public enum SignalRole : byte
{
    /// <summary>Temperature of the heating element, °C.</summary>
    ElementTemperature = 0,

    /// <summary>Temperature of the gas at the outlet, °C.</summary>
    OutletTemperature = 1,

    /// <summary>Temperature of the gas at the inlet, °C.</summary>
    InletTemperature = 2,

    /// <summary>Mass flow of the gas, kg/h.</summary>
    GasFlow = 3,

    /// <summary>Electrical power measured at the element, kW.</summary>
    Power = 4,

    /// <summary>Output of the controller, per cent of full power.</summary>
    Output = 5,

    /// <summary>Setpoint the controller works with at this moment, °C.</summary>
    WorkingSetpoint = 6,

    /// <summary>Blower demand as the cabinet has it, per cent.</summary>
    BlowerDemand = 7,

    /// <summary>Read-back of the permit token.</summary>
    Heartbeat = 8,

    /// <summary>Read-back of the enable bit: 0 or 1.</summary>
    Enable = 9,

    /// <summary>Read-back of the trip relay: 1 = energised.</summary>
    Relay = 10,

    /// <summary>Controller mode: 0 = automatic, 1 = manual.</summary>
    ManualMode = 11,

    /// <summary>Manual output value as the controller has it, per cent.</summary>
    ManualOutput = 12,

    /// <summary>Remote setpoint register as the controller has it, °C.</summary>
    RemoteSetpoint = 13,

    /// <summary>Key switch of the cabinet: 1 = supervised, 0 = local.</summary>
    KeySupervised = 14,

    /// <summary>Watchdog time of the cabinet, ms.</summary>
    WatchdogTime = 15,

    /// <summary>Hardwired safety chain: 1 = closed (healthy).</summary>
    ChainHealthy = 16,

    /// <summary>Auxiliary contact of the main contactor: 1 = closed.</summary>
    ContactorClosed = 17,

    /// <summary>Output limit as the controller has it, per cent of full power.</summary>
    OutputLimit = 18,

    /// <summary>The cabinet's own word on its watchdog: 1 = alive, 0 = dropped or never started.</summary>
    WatchdogAlive = 19,

    /// <summary>Second sensor of the element temperature, °C.</summary>
    ElementTemperature2 = 20,

    /// <summary>Third sensor of the element temperature, °C.</summary>
    ElementTemperature3 = 21,

    /// <summary>Second sensor of the outlet temperature, °C.</summary>
    OutletTemperature2 = 22,

    /// <summary>Third sensor of the outlet temperature, °C.</summary>
    OutletTemperature3 = 23,

    /// <summary>Second meter of the gas flow, kg/h.</summary>
    GasFlow2 = 24,

    /// <summary>Third meter of the gas flow, kg/h.</summary>
    GasFlow3 = 25,

    /// <summary>Current of the first phase, true RMS, A.</summary>
    CurrentL1 = 26,

    /// <summary>Current of the second phase, true RMS, A.</summary>
    CurrentL2 = 27,

    /// <summary>Current of the third phase, true RMS, A.</summary>
    CurrentL3 = 28,

    /// <summary>Earth leakage current, mA.</summary>
    EarthLeakage = 29,

    /// <summary>Resistance of the insulation, kΩ.</summary>
    Insulation = 30,

    /// <summary>Reset button of the cabinet: 1 = pressed.</summary>
    ResetInput = 31,

    /// <summary>Settings of the unit's controller: 1 = as commissioned, 0 = different. Compared at each connect.</summary>
    ControllerSettings = 32,

    /// <summary>Settings of the unit's meter and of every other device it takes points from: 1 = as commissioned, 0 = one differs.</summary>
    MeterSettings = 33,
}
