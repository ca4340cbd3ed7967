namespace EdgeGuard.Core.Alarms;

/// <summary>One alarm of a unit after a scan.</summary>
public struct AlarmPointStatus
{
    /// <summary>State after ISA-18.2.</summary>
    public AlarmState State;

    /// <summary>Why the design suppresses it now; None unless the state is <see cref="AlarmState.SuppressedByDesign"/>.</summary>
    public AlarmSuppression Suppression;

    /// <summary>The condition stands, whatever is shown of it.</summary>
    public bool Condition;

    /// <summary>People were told of it in this scan.</summary>
    public bool JustAnnunciated;

    /// <summary>It was annunciated three times within the last minute.</summary>
    public bool IsChattering;

    /// <summary>It is shown and has stood for more than a day.</summary>
    public bool IsStale;

    /// <summary>Time left on the shelf, s, rounded up; 0 unless shelved.</summary>
    public int ShelfSecondsLeft;

    /// <summary>Times it was annunciated since start.</summary>
    public int Annunciations;
}
