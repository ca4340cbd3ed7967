namespace EdgeGuard.OpcUa.SecureChannel;

/// <summary>The time as data: lifetimes run on the monotonic part, UTC is for stamps only.</summary>
/// <param name="MonotonicMs">Milliseconds of a clock that never steps.</param>
/// <param name="Utc">Time of day.</param>
public readonly record struct ChannelClock(long MonotonicMs, UaDateTime Utc);
