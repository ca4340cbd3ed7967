namespace EdgeGuard.Core.Alarms;

/// <summary>What can happen to an alarm.</summary>
public enum AlarmInput : byte
{
    /// <summary>Nothing.</summary>
    None = 0,

    /// <summary>The condition begins to stand.</summary>
    ConditionBegins = 1,

    /// <summary>The condition ends.</summary>
    ConditionEnds = 2,

    /// <summary>A person acknowledges.</summary>
    Acknowledge = 3,

    /// <summary>A person resets a latched alarm.</summary>
    Reset = 4,

    /// <summary>A person shelves for a limited time.</summary>
    Shelve = 5,

    /// <summary>A person takes it from the shelf.</summary>
    Unshelve = 6,

    /// <summary>The time on the shelf is over.</summary>
    ShelvingExpires = 7,

    /// <summary>The designed suppression begins.</summary>
    SuppressionBegins = 8,

    /// <summary>The designed suppression ends.</summary>
    SuppressionEnds = 9,

    /// <summary>A person takes it out of service.</summary>
    RemoveFromService = 10,

    /// <summary>A person returns it to service.</summary>
    ReturnToService = 11,
}
