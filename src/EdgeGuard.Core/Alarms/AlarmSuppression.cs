namespace EdgeGuard.Core.Alarms;

/// <summary>Why an alarm is suppressed by design. Numbers are never reused: they stand in journals.</summary>
public enum AlarmSuppression : byte
{
    /// <summary>It is not.</summary>
    None = 0,

    /// <summary>Nothing of what it judges is read any more, and COMM tells so.</summary>
    LinkLost = 1,

    /// <summary>The removal of power brings it about, and the alarm of the trip tells so.</summary>
    ForcedByTrip = 2,
}
