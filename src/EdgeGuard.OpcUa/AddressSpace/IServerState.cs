using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.AddressSpace;

/// <summary>What the Server object says of the server and changes while it runs; read by many threads at once.</summary>
public interface IServerState
{
    /// <summary>State of the server.</summary>
    ServerState State { get; }

    /// <summary>When the state became what it is.</summary>
    UaDateTime StateSince { get; }

    /// <summary>255 works, 200 and above healthy, below 200 degraded, 1 no data, 0 maintenance (OPC 10000-4, 6.6.2.4.2).</summary>
    byte ServiceLevel { get; }

    /// <summary>Whether audit events are given.</summary>
    bool Auditing { get; }

    /// <summary>Seconds until a shutdown that was announced, else 0.</summary>
    uint SecondsTillShutdown { get; }

    /// <summary>Why it shuts down.</summary>
    LocalizedText ShutdownReason { get; }

    /// <summary>Counters since the start, or null when no diagnostics are kept.</summary>
    ServerDiagnosticsSummaryDataType? DiagnosticsSummary => null;

    /// <summary>Diagnostics of each session, for those who may see them.</summary>
    IReadOnlyList<SessionDiagnosticsDataType> SessionDiagnostics => [];

    /// <summary>Security diagnostics of each session, for security administrators.</summary>
    IReadOnlyList<SessionSecurityDiagnosticsDataType> SessionSecurityDiagnostics => [];

    /// <summary>Diagnostics of each subscription.</summary>
    IReadOnlyList<SubscriptionDiagnosticsDataType> SubscriptionDiagnostics => [];
}
