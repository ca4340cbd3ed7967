namespace EdgeGuard.Core.Alarms;

/// <summary>Settings of one alarm.</summary>
public sealed record AlarmTable
{
    /// <summary>The alarm announces a trip.</summary>
    public required bool IsTrip { get; init; }

    /// <summary>Stays after the condition has gone until a person resets it.</summary>
    public required bool IsLatching { get; init; }

    /// <summary>Priority.</summary>
    public required AlarmPriority Priority { get; init; }

    /// <summary>Longest time on the shelf, scans.</summary>
    public required int ShelveMostScans { get; init; }

    /// <summary>The site lets the alarm of a trip be shelved and taken out of service all the same; false by default.</summary>
    public bool MayHideTrip { get; init; }

    /// <summary>True when a person may shelve it or take it out of service.</summary>
    public bool MayHide => !IsTrip || MayHideTrip;
}
