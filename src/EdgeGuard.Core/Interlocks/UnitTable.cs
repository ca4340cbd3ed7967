using EdgeGuard.Core.Alarms;
using EdgeGuard.Core.Signals;
using EdgeGuard.Core.Thermal;

namespace EdgeGuard.Core.Interlocks;

/// <summary>Immutable configuration of one unit (one heater).</summary>
public sealed record UnitTable
{
    /// <summary>Name of the unit, as in the journal.</summary>
    public required string Name { get; init; }

    /// <summary>Whether decisions are written.</summary>
    public required UnitMode Mode { get; init; }

    /// <summary>By what means power can be removed.</summary>
    public required FinalElementClass FinalElement { get; init; }

    /// <summary>Decisions are written: the unit is in enforce and names a final element.</summary>
    public bool Enforces => Mode == UnitMode.Enforce && FinalElement != FinalElementClass.None;

    /// <summary>Process gas; needed where FLOW or BALA compute with its enthalpy.</summary>
    public Gas Gas { get; init; }

    /// <summary>Rated power, kW.</summary>
    public required double RatedPowerKw { get; init; }

    /// <summary>
    /// Power the unit asks of the shared supply while its setpoint is led up, kW; infinite when not stated, and then
    /// the rated power counts.
    /// </summary>
    public double RampPowerKw { get; init; } = double.PositiveInfinity;

    /// <summary>Target of the led setpoint, °C.</summary>
    public required double SetpointC { get; init; }

    /// <summary>Setpoint written as one of the paths of a trip, °C: low enough that the controller asks for no power.</summary>
    public double TripSetpointC { get; init; }

    /// <summary>Remote reset allowed; off unless configured.</summary>
    public bool RemoteReset { get; init; }

    /// <summary>Watchdog time of the cabinet, ms; read back and compared.</summary>
    public required int WatchdogMs { get; init; }

    /// <summary>Longest time without a valid answer of a block of this unit before COMM trips, ms.</summary>
    public required int CommLimitMs { get; init; }

    /// <summary>Delay of SENS, ms; rounded up to whole scans.</summary>
    public required int SensDelayMs { get; init; }

    /// <summary>Configured signals.</summary>
    public required IReadOnlyList<SignalTable> Signals { get; init; }

    /// <summary>Configured commands.</summary>
    public required IReadOnlyList<CommandTable> Commands { get; init; }

    /// <summary>More resets than this within an hour are an alarm.</summary>
    public int RepeatedResetsPerHour { get; init; } = 3;

    /// <summary>What may be bypassed.</summary>
    public BypassTable Bypass { get; init; } = new();

    /// <summary>What may be forced.</summary>
    public ForceTable Force { get; init; } = new();

    /// <summary>What may be hidden of the alarms.</summary>
    public ShelfTable Shelf { get; init; } = new();

    /// <summary>Roles with several sensors; empty where each has one.</summary>
    public IReadOnlyList<VotingTable> Voting { get; init; } = [];

    /// <summary>Settings of SENS beside its delay.</summary>
    public SensorTable Sens { get; init; } = new();

    /// <summary>Settings of PHAS; null where the currents are not fitted.</summary>
    public PhaseTable? Phas { get; init; }

    /// <summary>Settings of LEAK; null where nothing is fitted.</summary>
    public LeakTable? Leak { get; init; }

    /// <summary>Settings of BALA; null where it is not configured.</summary>
    public BalanceTable? Bala { get; init; }

    /// <summary>Settings of FLOW.</summary>
    public required FlowTable Flow { get; init; }

    /// <summary>Settings of ELEM.</summary>
    public required TemperatureTable Elem { get; init; }

    /// <summary>Settings of OUTL.</summary>
    public required TemperatureTable Outl { get; init; }

    /// <summary>Settings of NORS.</summary>
    public required NoResponseTable Nors { get; init; }

    /// <summary>Settings of RESD.</summary>
    public required ResidualTable Resd { get; init; }

    /// <summary>Settings of COOL, HEAT and AFTC.</summary>
    public required CoolTable Cool { get; init; }
}
