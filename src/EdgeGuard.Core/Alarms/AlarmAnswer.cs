namespace EdgeGuard.Core.Alarms;

/// <summary>Answer to a person's request about an alarm.</summary>
public enum AlarmAnswer : byte
{
    /// <summary>The alarm is not in a state in which this makes sense.</summary>
    WrongState = 0,

    /// <summary>Done.</summary>
    Done = 1,

    /// <summary>The alarm of a trip is neither shelved nor taken out of service unless the site says so.</summary>
    IsTrip = 2,

    /// <summary>Longer than the longest time on the shelf, or no time at all.</summary>
    WrongTime = 3,
}
