namespace EdgeGuard.Core.Signals;

/// <summary>Whether events can be made durable. Anything but <see cref="Healthy"/> denies a new permit.</summary>
public enum JournalHealth : byte
{
    /// <summary>Unknown.</summary>
    Unknown = 0,

    /// <summary>Writing or syncing fails.</summary>
    Failing = 1,

    /// <summary>The journal accepts and syncs events.</summary>
    Healthy = 2,
}
