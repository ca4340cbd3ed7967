namespace EdgeGuard.Core.Interlocks;

/// <summary>Which of its conditions a function found, where it judges several; for the words of a person, no decision reads it.</summary>
public enum Finding : byte
{
    /// <summary>The condition the function is named after.</summary>
    None = 0,

    /// <summary>COMM: no permit token was confirmed within the watchdog time.</summary>
    TokenUnconfirmed = 1,

    /// <summary>COMM: the guard stood still for about the watchdog time.</summary>
    Standstill = 2,

    /// <summary>CMDV: the key of the cabinet is on local.</summary>
    KeyLocal = 3,

    /// <summary>CMDV: the key or the watchdog of the cabinet cannot be read; HARD: the chain; FLOW: the flow.</summary>
    NotReadable = 4,

    /// <summary>CMDV: the watchdog time of the cabinet is not the configured one.</summary>
    WatchdogTime = 5,

    /// <summary>CMDV: a permit token was read back that was not written here, or none arrives.</summary>
    SecondWriter = 6,

    /// <summary>CMDV: the controller was put into manual.</summary>
    Manual = 7,

    /// <summary>CMDV: the cabinet says that its watchdog has dropped.</summary>
    WatchdogDropped = 8,

    /// <summary>CMDV: the start position was not reached in time.</summary>
    StartPosition = 9,

    /// <summary>SENS: one of several sensors of a role is lost, the role is not.</summary>
    RedundantSensorLost = 10,

    /// <summary>SENS: good sensors of a role differ by more than allowed.</summary>
    SensorsDiffer = 11,

    /// <summary>CMDV: settings of a device differ from what was commissioned.</summary>
    DeviceSettings = 12,

    /// <summary>SENS: a sensor reads the same although its excitation changed.</summary>
    Frozen = 13,

    /// <summary>SENS: a temperature jumps faster than physics allows.</summary>
    ForbiddenSlope = 14,

    /// <summary>PHAS: a line carries no current or a leg is open.</summary>
    OpenLeg = 15,

    /// <summary>LEAK: the insulation is low.</summary>
    Insulation = 16,

    /// <summary>CMDV: relay or enable was taken away at the cabinet.</summary>
    TakenAway = 17,

    /// <summary>SENS: element and outlet do not fit each other at this power and flow.</summary>
    ModelBand = 18,

    /// <summary>SENS: the power reads nothing although the heater is heated.</summary>
    PowerUnread = 19,

    /// <summary>SENS: a sensor scatters far less than it did at commissioning.</summary>
    BelowNoise = 25,

    /// <summary>LEAK: the leakage rises slowly towards its alarm limit.</summary>
    LeakageRises = 26,

    /// <summary>LEAK: the insulation falls slowly towards its alarm limit.</summary>
    InsulationFalls = 27,

    /// <summary>SENS: a signal is forced by a person.</summary>
    Forced = 30,
}
