namespace EdgeGuard.Records.Recorder;

/// <summary>Outcome of reading one recorded scan.</summary>
public enum RawTailOutcome
{
    /// <summary>The record fails its check; nothing after it is believed.</summary>
    Damaged = 0,

    /// <summary>The recording ends within a record.</summary>
    CutShort = 1,

    /// <summary>The recording ends here.</summary>
    End = 2,

    /// <summary>Read whole.</summary>
    Good = 3,
}
