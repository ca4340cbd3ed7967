namespace EdgeGuard.Service.FieldIo;

/// <summary>Immutable configuration of one link: what is polled, what is written and how long it may take.</summary>
public sealed record LinkTable
{
    /// <summary>Name of the link, as in logs and in the status.</summary>
    public required string Name { get; init; }

    /// <summary>Poll period = scan period, ms.</summary>
    public required int ScanMs { get; init; }

    /// <summary>How long before the scan its polling starts, ms; less than <see cref="ScanMs"/>.</summary>
    public required int PollLeadMs { get; init; }

    /// <summary>Time limit of one transaction, ms.</summary>
    public required int TimeoutMs { get; init; }

    /// <summary>Time limit of one attempt to connect, ms.</summary>
    public required int ConnectTimeoutMs { get; init; }

    /// <summary>First wait between two attempts to connect, ms; doubles with jitter up to the cap.</summary>
    public int ReconnectMinMs { get; init; } = 100;

    /// <summary>Longest wait between two attempts to connect, ms.</summary>
    public int ReconnectMaxMs { get; init; } = 2_000;

    /// <summary>Poll requests in the order in which they are sent.</summary>
    public required IReadOnlyList<PollRequestTable> Polls { get; init; }

    /// <summary>Written points of all devices of the link.</summary>
    public required IReadOnlyList<WritePointTable> Writes { get; init; }

    /// <summary>Settings of its devices that are compared with their snapshot.</summary>
    public IReadOnlyList<SettingsTable> Settings { get; init; } = [];
}
