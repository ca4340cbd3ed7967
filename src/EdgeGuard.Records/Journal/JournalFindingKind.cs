namespace EdgeGuard.Records.Journal;

/// <summary>What a verification found.</summary>
public enum JournalFindingKind
{
    /// <summary>A line is not what was written, or lines are missing, moved or added.</summary>
    Damage = 0,

    /// <summary>Whole lines are missing at the end: the head says more.</summary>
    MissingEnd = 1,

    /// <summary>The head file is damaged.</summary>
    HeadDamaged = 2,

    /// <summary>The head file is missing though there are lines.</summary>
    HeadMissing = 3,

    /// <summary>The oldest segments are not in the folder.</summary>
    MissingStart = 4,

    /// <summary>The guard itself stated at this line that the history before it is damaged.</summary>
    StatedBreak = 5,

    /// <summary>Bytes after the last durable line that are no line: a write cut short by power loss, no corruption.</summary>
    TornTail = 6,
}
