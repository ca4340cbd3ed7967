using EdgeGuard.Core.Alarms;

namespace EdgeGuard.Service.Guarding.Watching;

/// <summary>How many alarms of a site are in which condition in one scan.</summary>
internal struct AlarmTally
{
    /// <summary>Shown and their condition stands.</summary>
    public int Standing;

    /// <summary>Nobody has acknowledged them.</summary>
    public int Unacknowledged;

    /// <summary>On the shelf.</summary>
    public int Shelved;

    /// <summary>Suppressed by design while their condition stands.</summary>
    public int Suppressed;

    /// <summary>Out of service.</summary>
    public int OutOfService;

    /// <summary>Annunciated three times within a minute.</summary>
    public int Chattering;

    /// <summary>Shown for more than a day.</summary>
    public int Stale;

    public void Count(in AlarmPointStatus alarm)
    {
        Standing += AlarmDiagram.IsOpen(alarm.State) && alarm.Condition ? 1 : 0;
        Unacknowledged += alarm.State is AlarmState.Unacknowledged or AlarmState.ReturnedUnacknowledged or AlarmState.LatchedUnacknowledged ? 1 : 0;
        Shelved += alarm.State == AlarmState.Shelved ? 1 : 0;
        Suppressed += alarm.State == AlarmState.SuppressedByDesign && alarm.Condition ? 1 : 0;
        OutOfService += alarm.State == AlarmState.OutOfService ? 1 : 0;
        Chattering += alarm.IsChattering ? 1 : 0;
        Stale += alarm.IsStale ? 1 : 0;
    }
}
