namespace EdgeGuard.Service.Configuration;

/// <summary>Settings of one Modbus TCP connection.</summary>
public sealed record LinkOptions
{
    /// <summary>Name of the link.</summary>
    public required string Name { get; init; }

    /// <summary>Host name or address.</summary>
    public required string Host { get; init; }

    /// <summary>TCP port, 1 to 65535.</summary>
    public required int Port { get; init; }

    /// <summary>Time-out of connecting, ms.</summary>
    public required int ConnectMs { get; init; }

    /// <summary>Time-out of one answer, ms.</summary>
    public required int AnswerMs { get; init; }

    /// <summary>Polling starts this long before the scan, ms; shorter than the scan period.</summary>
    public required int PollLeadMs { get; init; }
}
