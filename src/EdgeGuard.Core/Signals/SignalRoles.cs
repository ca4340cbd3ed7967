namespace EdgeGuard.Core.Signals;

/// <summary>Facts about the set of <see cref="SignalRole"/> values.</summary>
public static class SignalRoles
{
    /// <summary>Number of roles; arrays indexed by role have this length.</summary>
    public const int Count = (int)SignalRole.WatchdogAlive + 1;
}
