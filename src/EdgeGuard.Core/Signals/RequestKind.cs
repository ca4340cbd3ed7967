namespace EdgeGuard.Core.Signals;

/// <summary>A deliberate act of a person or of a reset input. Reset and start are separate acts.</summary>
public enum RequestKind : byte
{
    /// <summary>No request.</summary>
    None = 0,

    /// <summary>Acknowledge the unit's alarms and trip; changes no output.</summary>
    Acknowledge = 1,

    /// <summary>Clear a latched trip whose cause is gone; never starts heating.</summary>
    Reset = 2,

    /// <summary>Begin pre-flow and then heating.</summary>
    Start = 3,

    /// <summary>Remove power now and cool with gas.</summary>
    Stop = 4,

    /// <summary>Powered cool-down at the cap, then removal of power.</summary>
    Cool = 5,

    /// <summary>Bypass one function for a stated time; it goes on being judged and its demands are counted.</summary>
    Bypass = 6,

    /// <summary>End a bypass before its time.</summary>
    Unbypass = 7,

    /// <summary>Say that the latest trip had a cause.</summary>
    ClassifyGenuine = 8,

    /// <summary>Say that the latest trip was spurious.</summary>
    ClassifySpurious = 9,

    /// <summary>Shelve one alarm for a stated time; the function is its name, None the alarm of the trip.</summary>
    Shelve = 10,

    /// <summary>Take an alarm from the shelf before its time.</summary>
    Unshelve = 11,

    /// <summary>Take one alarm out of service.</summary>
    RemoveFromService = 12,

    /// <summary>Return an alarm to service.</summary>
    ReturnToService = 13,

    /// <summary>Force the value of one signal for a stated time; what the real value would have done goes on being judged and counted.</summary>
    Force = 20,

    /// <summary>End a force before its time.</summary>
    Unforce = 21,

    /// <summary>Let a function learn anew what it learnt: after work on the heater, at commissioning.</summary>
    Learn = 15,
}
