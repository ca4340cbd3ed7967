namespace EdgeGuard.Records.Ring;

/// <summary>Outcome of reading one record of a ring.</summary>
public enum RingReadOutcome
{
    /// <summary>Not written yet.</summary>
    NotYet = 0,

    /// <summary>Read whole.</summary>
    Good = 1,

    /// <summary>Overwritten before it could be read: the reader is too slow.</summary>
    Lost = 2,
}
