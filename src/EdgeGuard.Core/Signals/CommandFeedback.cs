namespace EdgeGuard.Core.Signals;

/// <summary>What became of the latest write of one command.</summary>
public enum CommandFeedback : byte
{
    /// <summary>Nothing was written since start.</summary>
    None = 0,

    /// <summary>A write waits or is under way; a permit token is not renewed meanwhile.</summary>
    Outstanding = 1,

    /// <summary>The device confirmed the latest write.</summary>
    Confirmed = 2,

    /// <summary>The latest write timed out, was refused or was dropped when the link was lost.</summary>
    Failed = 3,
}
