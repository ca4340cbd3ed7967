namespace EdgeGuard.Service.Configuration;

/// <summary>How the site is published over OPC UA. None of it decides anything, so none of it is in the digest of the settings.</summary>
public sealed record PublisherOptions
{
    /// <summary>Whether the guard starts a publisher and keeps it running.</summary>
    public required bool Enabled { get; init; }

    /// <summary>TCP port, 1 to 65535.</summary>
    public required int Port { get; init; }

    /// <summary>IP address to listen on.</summary>
    public required string Bind { get; init; }

    /// <summary>Whether sessions without security are allowed on an address other than loopback.</summary>
    public required bool AllowNone { get; init; }

    /// <summary>Memory of the publisher, MiB: three quarters of it are the limit of its heap; one that holds more than all of it in main memory is started again.</summary>
    public required int MemoryLimitMb { get; init; }

    /// <summary>URL of the discovery server to register with; null for none.</summary>
    public Uri? DiscoveryServer { get; init; }

    /// <summary>Time between two registrations, s, 10 to 600.</summary>
    public int RegisterSeconds { get; init; } = 300;
}
