namespace EdgeGuard.Publication;

/// <summary>What became of a request.</summary>
public enum GuardOutcome
{
    /// <summary>No guard answered.</summary>
    Unavailable = 0,

    /// <summary>The guard decided against it, and said why.</summary>
    Refused = 1,

    /// <summary>Too many requests at once.</summary>
    Busy = 2,

    /// <summary>The guard does not take requests from this process.</summary>
    Denied = 3,

    /// <summary>The request had the wrong form.</summary>
    Invalid = 4,

    /// <summary>Accepted.</summary>
    Accepted = 5,
}
