namespace EdgeGuard.OpcUa.Security;

/// <summary>How guessing is slowed down.</summary>
public sealed record LoginThrottleOptions
{
    /// <summary>Wrong attempts in a row without any wait.</summary>
    public int FreeAttempts { get; init; } = 5;

    /// <summary>Wait after the first attempt beyond the free ones, ms; each further one doubles it.</summary>
    public long FirstWaitMs { get; init; } = 1000;

    /// <summary>Longest wait of an address, ms.</summary>
    public long AddressWaitMsMax { get; init; } = 300_000;

    /// <summary>Longest wait of a user, ms: shorter, because a stranger can provoke it.</summary>
    public long UserWaitMsMax { get; init; } = 30_000;

    /// <summary>After this time without a wrong attempt all is forgotten, ms.</summary>
    public long ForgetMs { get; init; } = 900_000;

    /// <summary>Addresses that are remembered, and as many users.</summary>
    public int EntriesMax { get; init; } = 1000;
}
