using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.Sessions;
using EdgeGuard.OpcUa.Subscriptions;

namespace EdgeGuard.OpcUa.Server;

/// <summary>
/// The diagnostics of OPC 10000-5, 12.9 to 12.15 as clients read them: made when somebody reads them, from figures that
/// are kept anyway, so that they cost nothing while nobody looks. May be called by any thread.
/// </summary>
public sealed class ServerDiagnostics
{
    private const long TicksPerMs = 10_000;

    private readonly UaServer _server;
    private readonly SubscriptionEngine _subscriptions;

    internal ServerDiagnostics(UaServer server, SubscriptionEngine subscriptions) => (_server, _subscriptions) = (server, subscriptions);

    /// <summary>Counts of the whole server since its start.</summary>
    public ServerDiagnosticsSummaryDataType Summary()
    {
        lock (_server.Gate)
        {
            ServerCounters counters = _server.Counters;
            return new ServerDiagnosticsSummaryDataType
            {
                CurrentSessionCount = (uint)_server.SessionCount,
                CumulatedSessionCount = Wrapped(counters.Sessions),
                SecurityRejectedSessionCount = Wrapped(counters.SecurityRejectedSessions),
                RejectedSessionCount = Wrapped(counters.RejectedSessions),
                SessionTimeoutCount = Wrapped(counters.TimedOutSessions),
                SessionAbortCount = Wrapped(counters.AbortedSessions),
                CurrentSubscriptionCount = (uint)_subscriptions.Count,
                CumulatedSubscriptionCount = Wrapped(_subscriptions.CreatedCount),
                PublishingIntervalCount = (uint)_subscriptions.All.Select(static s => s.IntervalMs).Distinct().Count(),
                SecurityRejectedRequestsCount = Wrapped(counters.SecurityRejectedRequests),
                RejectedRequestsCount = Wrapped(counters.RejectedRequests),
            };
        }
    }

    /// <summary>One entry for each session.</summary>
    public IReadOnlyList<SessionDiagnosticsDataType> Sessions()
    {
        lock (_server.Gate)
        {
            return [.. Ordered().Select(Describe)];
        }
    }

    /// <summary>Who works in each session and how it is secured; for those alone who look after security.</summary>
    public IReadOnlyList<SessionSecurityDiagnosticsDataType> Security()
    {
        lock (_server.Gate)
        {
            return [.. Ordered().Select(DescribeSecurity)];
        }
    }

    /// <summary>One entry for each subscription.</summary>
    public IReadOnlyList<SubscriptionDiagnosticsDataType> Subscriptions()
    {
        lock (_server.Gate)
        {
            return [.. _subscriptions.All.Select(Describe)];
        }
    }

    private IEnumerable<UaSession> Ordered() => _server.Sessions.All.OrderBy(static session => session.SessionId.Number);

    // Under the gate, like what follows.
    internal static SessionDiagnosticsDataType Describe(UaSession session)
    {
        var entry = new SessionDiagnosticsDataType
        {
            SessionId = session.SessionId,
            SessionName = session.Name,
            ClientDescription = session.Client,
            ServerUri = session.Asked.ServerUri,
            EndpointUrl = session.Asked.EndpointUrl,
            LocaleIds = session.Locales,
            ActualSessionTimeout = session.TimeoutMs,
            MaxResponseMessageSize = session.ResponseBytesMax,
            ClientConnectionTime = session.CreatedUtc,
            ClientLastContactTime = new UaDateTime(session.CreatedUtc.Ticks + ((session.LastUseMs - session.CreatedMs) * TicksPerMs)),
            CurrentSubscriptionsCount = (uint)session.Subscriptions.Count,
            CurrentMonitoredItemsCount = (uint)session.ItemCount,
            CurrentPublishRequestsInQueue = (uint)session.Publishing.Count,
        };
        session.Tally.Fill(entry);
        return entry;
    }

    internal static SessionSecurityDiagnosticsDataType DescribeSecurity(UaSession session) => new()
    {
        SessionId = session.SessionId,
        ClientUserIdOfSession = session.Identity.Name,
        ClientUserIdHistory = [.. session.FormerUsers, session.Identity.Name],
        AuthenticationMechanism = session.Identity.Kind.ToString(),
        Encoding = "UA Binary",
        TransportProtocol = "UA TCP",
        SecurityMode = session.Mode,
        SecurityPolicyUri = session.Policy.Uri,
        ClientCertificate = session.ClientCertificate,
    };

    internal static SubscriptionDiagnosticsDataType Describe(UaSubscription subscription)
    {
        SubscriptionTally tally = subscription.Tally;
        return new SubscriptionDiagnosticsDataType
        {
            SessionId = subscription.Session?.SessionId ?? default,
            SubscriptionId = subscription.Id,
            Priority = subscription.Priority,
            PublishingInterval = subscription.IntervalMs,
            MaxKeepAliveCount = subscription.KeepAliveCount,
            MaxLifetimeCount = subscription.LifetimeCount,
            MaxNotificationsPerPublish = subscription.NotificationsMax,
            PublishingEnabled = subscription.PublishingEnabled,
            ModifyCount = tally.Modified,
            EnableCount = tally.Enabled,
            DisableCount = tally.Disabled,
            RepublishRequestCount = tally.RepublishRequests,
            RepublishMessageRequestCount = tally.RepublishRequests,
            RepublishMessageCount = tally.Republished,
            TransferRequestCount = tally.TransferRequests,
            TransferredToAltClientCount = tally.TransferredToOtherClient,
            TransferredToSameClientCount = tally.TransferredToSameClient,
            PublishRequestCount = tally.Publishes,
            DataChangeNotificationsCount = tally.DataChanges,
            NotificationsCount = tally.DataChanges,
            LatePublishRequestCount = tally.Late,
            CurrentKeepAliveCount = tally.KeepAlives,
            CurrentLifetimeCount = subscription.LifetimeCycles,
            UnacknowledgedMessageCount = (uint)subscription.Sent.Count,
            DiscardedMessageCount = subscription.Sent.Discarded,
            MonitoredItemCount = (uint)subscription.Order.Count,
            DisabledMonitoredItemCount = (uint)subscription.DisabledItems,
            MonitoringQueueOverflowCount = tally.QueueOverflows,
            NextSequenceNumber = subscription.NextSequenceNumber,
        };
    }

    private static uint Wrapped(long count) => unchecked((uint)count);
}
