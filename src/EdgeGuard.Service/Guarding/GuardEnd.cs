namespace EdgeGuard.Service.Guarding;

/// <summary>How a run of the guard ended. Zero is the one nobody can be content with.</summary>
public enum GuardEnd
{
    /// <summary>The scan loop broke; removal was offered to every enforced unit.</summary>
    Broken = 0,

    /// <summary>Stopped in order, every write confirmed.</summary>
    Stopped = 1,

    /// <summary>Stopped in order, but not every cabinet confirmed in time; its watchdog removes the power.</summary>
    StoppedUnconfirmed = 2,

    /// <summary>Another guard holds the data folder; nothing was started.</summary>
    AlreadyRunning = 3,

    /// <summary>Something the start needs is not there (data folder, socket, host name); nothing was started.</summary>
    Unavailable = 4,
}
