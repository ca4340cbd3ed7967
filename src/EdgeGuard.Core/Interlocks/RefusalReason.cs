namespace EdgeGuard.Core.Interlocks;

/// <summary>Why a request was refused. Numbers are never reused: they stand in journals.</summary>
public enum RefusalReason : byte
{
    /// <summary>Not refused.</summary>
    None = 0,

    /// <summary>The request does not exist in the unit's state.</summary>
    WrongState = 1,

    /// <summary>The cause of the trip is still present; the event names the function.</summary>
    CauseStillPresent = 2,

    /// <summary>The trip has not been reset.</summary>
    NotReset = 3,

    /// <summary>The journal is not healthy.</summary>
    JournalNotHealthy = 4,

    /// <summary>The cabinet's key is on local.</summary>
    KeyOnLocal = 5,

    /// <summary>The unit only observes.</summary>
    ObserveOnly = 6,

    /// <summary>Remote reset is off.</summary>
    RemoteResetOff = 7,

    /// <summary>Power is not proved off.</summary>
    PowerNotProvedOff = 8,

    /// <summary>The flow signal was not seen below its limit with the blower stopped since the guard started.</summary>
    FlowZeroNotSeen = 9,

    /// <summary>The read-back of the cabinet is not in its start position (output 0 %, automatic, remote).</summary>
    NotInStartPosition = 10,

    /// <summary>The site does not let this function be bypassed.</summary>
    NotBypassable = 11,

    /// <summary>The time of the bypass is not between 1 minute and the longest the site allows.</summary>
    BypassTime = 12,

    /// <summary>The function is not bypassed.</summary>
    NotBypassed = 13,

    /// <summary>No trip is known that could be classified.</summary>
    NoTrip = 14,

    /// <summary>The settings of a device differ from what was commissioned, or are not known.</summary>
    SettingsNotAsCommissioned = 15,

    /// <summary>The alarm is that of a trip and the site does not let it be hidden.</summary>
    AlarmOfTrip = 16,

    /// <summary>The time on the shelf is not between 1 minute and the longest the site allows.</summary>
    ShelvingTime = 17,

    /// <summary>The alarm is not in a state in which this makes sense.</summary>
    AlarmState = 18,

    /// <summary>The site does not let alarms be taken out of service.</summary>
    OutOfServiceOff = 19,

    /// <summary>The site does not let this signal be forced.</summary>
    NotForcible = 20,

    /// <summary>The value is outside what the site allows for the signal.</summary>
    ForceRange = 21,

    /// <summary>The time of the force is not between 1 minute and the longest the site allows.</summary>
    ForceTime = 22,

    /// <summary>As many signals are forced as may be at the same time.</summary>
    TooManyForced = 23,

    /// <summary>The signal is not forced.</summary>
    NotForced = 24,

    /// <summary>A signal is forced, and the site does not let the unit start with one.</summary>
    ValuesForced = 25,

    /// <summary>There is no such alarm.</summary>
    NoSuchAlarm = 26,

    /// <summary>The function learns nothing, or is not configured.</summary>
    NothingToLearn = 30,
}
