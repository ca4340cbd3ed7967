using EdgeGuard.Core.Alarms;

namespace EdgeGuard.Records.Ring;

/// <summary>One alarm of a unit as the ring tells it.</summary>
public struct ScanRingAlarm
{
    /// <summary>State after ISA-18.2, as the core numbers them.</summary>
    public byte State;

    /// <summary>Why the design suppresses it.</summary>
    public AlarmSuppression Suppression;

    /// <summary>Its condition stands, whatever is shown of it.</summary>
    public bool Condition;

    /// <summary>Annunciated three times within the last minute.</summary>
    public bool IsChattering;

    /// <summary>Shown, and standing for more than a day.</summary>
    public bool IsStale;

    /// <summary>Time left on the shelf, s, rounded up; 0 unless shelved.</summary>
    public int ShelfSecondsLeft;

    /// <summary>Annunciations since the guard started.</summary>
    public long Annunciations;
}
