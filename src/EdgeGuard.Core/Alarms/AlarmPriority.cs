namespace EdgeGuard.Core.Alarms;

/// <summary>Priority of an alarm. The usual share of annunciations is about 80, 15 and 5 % from low to high (EEMUA 191, from memory).</summary>
public enum AlarmPriority : byte
{
    /// <summary>Needs an answer at once.</summary>
    High = 0,

    /// <summary>Needs an answer soon.</summary>
    Medium = 1,

    /// <summary>Needs an answer.</summary>
    Low = 2,
}
