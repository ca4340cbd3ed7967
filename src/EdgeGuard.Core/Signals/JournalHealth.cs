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

    /// <summary>
    /// The journal accepts and syncs events, but lost some in this run: the watermark stands before the first of them, so
    /// no further permit can become durable until the guard is started again.
    /// </summary>
    EventsLost = 3,
}
