using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.Server;

namespace EdgeGuard.OpcUa.Tests.Server;

/// <summary>A server that runs, with its own diagnostics.</summary>
internal sealed class RunningState(UaServer server, UaDateTime since) : IServerState
{
    public ServerState State => ServerState.Running;

    public UaDateTime StateSince => since;

    public byte ServiceLevel => 255;

    public bool Auditing => false;

    public uint SecondsTillShutdown => 0;

    public LocalizedText ShutdownReason => default;

    public ServerDiagnosticsSummaryDataType? DiagnosticsSummary => server.Diagnostics.Summary();

    public IReadOnlyList<SessionDiagnosticsDataType> SessionDiagnostics => server.Diagnostics.Sessions();

    public IReadOnlyList<SessionSecurityDiagnosticsDataType> SessionSecurityDiagnostics => server.Diagnostics.Security();

    public IReadOnlyList<SubscriptionDiagnosticsDataType> SubscriptionDiagnostics => server.Diagnostics.Subscriptions();
}
