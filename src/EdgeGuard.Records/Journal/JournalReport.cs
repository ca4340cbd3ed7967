namespace EdgeGuard.Records.Journal;

/// <summary>Result of a verification: what the journal holds, where it ends and what is wrong with it.</summary>
public sealed class JournalReport
{
    /// <summary>All findings in the order of the journal; empty when it is whole.</summary>
    public IReadOnlyList<JournalFinding> Findings => List;

    /// <summary>True when nothing at all was found.</summary>
    public bool IsWhole => List.Count == 0;

    /// <summary>Segments found.</summary>
    public int SegmentCount { get; internal set; }

    /// <summary>Lines found, good or not.</summary>
    public long LineCount { get; internal set; }

    /// <summary>Number of the last good line; 0 when there is none.</summary>
    public long LastNumber { get; internal set; }

    /// <summary>Hash of the last good line; 64 zeros when there is none.</summary>
    public string LastHash { get; internal set; } = JournalChain.Start;

    /// <summary>Event id of the last good line; 0 when there is none.</summary>
    public int LastEventId { get; internal set; }

    /// <summary>The head record, null when missing or damaged.</summary>
    public JournalHead? Head { get; internal set; }

    /// <summary>Number of the last segment; 0 when there is none.</summary>
    public int LastSegment { get; internal set; }

    /// <summary>Bytes of the last segment up to and with its last good line.</summary>
    public long LastSegmentGoodBytes { get; internal set; }

    /// <summary>Lines of the last segment, good or not.</summary>
    public int LastSegmentLines { get; internal set; }

    /// <summary>Bytes of a torn tail after that; 0 when there is none.</summary>
    public long TornBytes { get; internal set; }

    /// <summary>
    /// Damage the journal itself does not state yet: found after the last break entry, or in the head. A guard that
    /// opens such a journal continues in a new segment and states it.
    /// </summary>
    public IReadOnlyList<JournalFinding> Unstated => UnstatedList;

    /// <summary>Mutable side of <see cref="Findings"/>, for the verifier.</summary>
    internal List<JournalFinding> List { get; } = [];

    /// <summary>Mutable side of <see cref="Unstated"/>, for the verifier.</summary>
    internal List<JournalFinding> UnstatedList { get; } = [];

    /// <summary>Adds a finding; one that is neither a torn tail nor known history is also unstated.</summary>
    /// <param name="finding">The finding.</param>
    internal void Add(JournalFinding finding)
    {
        List.Add(finding);
        if (finding.Kind == JournalFindingKind.StatedBreak)
        {
            UnstatedList.Clear();
        }
        else if (finding.Kind is not (JournalFindingKind.TornTail or JournalFindingKind.MissingStart))
        {
            UnstatedList.Add(finding);
        }
    }
}
