namespace EdgeGuard.Publication.Site;

/// <summary>How the guard is seen through its ring.</summary>
public enum GuardLink
{
    /// <summary>No ring, or none that belongs to this site.</summary>
    Absent = 0,

    /// <summary>No scan for so long that no value is of use any more.</summary>
    Lost = 1,

    /// <summary>No new scan for a while.</summary>
    Late = 2,

    /// <summary>Scans come.</summary>
    Live = 3,
}
