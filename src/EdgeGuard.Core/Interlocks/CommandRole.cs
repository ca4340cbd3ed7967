namespace EdgeGuard.Core.Interlocks;

/// <summary>What a written point does. The number is the index in <see cref="UnitDecision.Commands"/>.</summary>
public enum CommandRole : byte
{
    /// <summary>Permit token: changes while power is permitted, 0 removes power at once.</summary>
    Heartbeat = 0,

    /// <summary>Trip relay: 1 energised, 0 removes power.</summary>
    Relay = 1,

    /// <summary>Enable bit of the controller or thyristor: 1 permits firing.</summary>
    Enable = 2,

    /// <summary>Controller mode: 0 automatic, 1 manual.</summary>
    ManualMode = 3,

    /// <summary>Output in manual mode, per cent.</summary>
    ManualOutput = 4,

    /// <summary>Remote setpoint, °C.</summary>
    Setpoint = 5,

    /// <summary>Blower demand, per cent.</summary>
    BlowerDemand = 6,

    /// <summary>Highest output of the controller, per cent of full power: the unit's share of the supply as a hard cap.</summary>
    OutputLimit = 7,
}
