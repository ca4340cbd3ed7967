namespace EdgeGuard.Core.Alarms;

/// <summary>
/// State of an alarm, with the letters of the state diagram of ANSI/ISA-18.2 and IEC 62682 (from memory). The zero value
/// is the one that annunciates.
/// </summary>
public enum AlarmState : byte
{
    /// <summary>B: the condition stands, nobody has acknowledged.</summary>
    Unacknowledged = 0,

    /// <summary>A: no condition, nothing to acknowledge.</summary>
    Normal = 1,

    /// <summary>C: the condition stands, acknowledged.</summary>
    Acknowledged = 2,

    /// <summary>D: returned to normal before anybody acknowledged.</summary>
    ReturnedUnacknowledged = 3,

    /// <summary>E: returned to normal, latched, not acknowledged.</summary>
    LatchedUnacknowledged = 4,

    /// <summary>F: returned to normal, latched, acknowledged: waits for a reset.</summary>
    LatchedAcknowledged = 5,

    /// <summary>G: shelved by a person for a limited time.</summary>
    Shelved = 6,

    /// <summary>H: suppressed by design: the plant is in a state in which the alarm says nothing.</summary>
    SuppressedByDesign = 7,

    /// <summary>I: out of service, by a person, until returned.</summary>
    OutOfService = 8,
}
