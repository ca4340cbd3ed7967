using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.Server;
using EdgeGuard.Publication.Site;

namespace EdgeGuard.Publication;

/// <summary>What the Server object tells: it runs as long as it answers; the service level says how far its values can be trusted.</summary>
internal sealed class PublisherState(UaServer server, RingFeed feed, UaDateTime start) : IServerState
{
    // Ranges of OPC 10000-4, 6.6.2.4.2: 200 and above healthy, below degraded, 1 no data.
    private const byte Healthy = 255;
    private const byte Degraded = 100;
    private const byte NoData = 1;

    public ServerState State => ServerState.Running;

    public UaDateTime StateSince => start;

    public byte ServiceLevel => feed.Link switch
    {
        GuardLink.Live => Healthy,
        GuardLink.Late => Degraded,
        _ => NoData,
    };

    public bool Auditing => false;

    public uint SecondsTillShutdown => 0;

    public LocalizedText ShutdownReason => default;

    public ServerDiagnosticsSummaryDataType? DiagnosticsSummary => server.Diagnostics.Summary();

    public IReadOnlyList<SessionDiagnosticsDataType> SessionDiagnostics => server.Diagnostics.Sessions();

    public IReadOnlyList<SessionSecurityDiagnosticsDataType> SessionSecurityDiagnostics => server.Diagnostics.Security();

    public IReadOnlyList<SubscriptionDiagnosticsDataType> SubscriptionDiagnostics => server.Diagnostics.Subscriptions();
}
