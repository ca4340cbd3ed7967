using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.Server;

/// <summary>
/// What each component of the complex variables of the diagnostics shows, by its browse name (OPC 10000-5, 7.12, 7.14 and
/// 7.16). <see cref="DiagnosticTemplate{T}"/> holds the names against the nodeset.
/// </summary>
internal static class DiagnosticFields
{
    public static IReadOnlyDictionary<string, Func<SessionDiagnosticsDataType, Variant>> Session { get; } = new Dictionary<string, Func<SessionDiagnosticsDataType, Variant>>(StringComparer.Ordinal)
    {
        ["SessionId"] = static s => new Variant(s.SessionId),
        ["SessionName"] = static s => new Variant(s.SessionName),
        ["ClientDescription"] = static s => new Variant(s.ClientDescription),
        ["ServerUri"] = static s => new Variant(s.ServerUri),
        ["EndpointUrl"] = static s => new Variant(s.EndpointUrl),
        ["LocaleIds"] = static s => Texts(s.LocaleIds),
        ["ActualSessionTimeout"] = static s => new Variant(s.ActualSessionTimeout),
        ["MaxResponseMessageSize"] = static s => new Variant(s.MaxResponseMessageSize),
        ["ClientConnectionTime"] = static s => new Variant(s.ClientConnectionTime),
        ["ClientLastContactTime"] = static s => new Variant(s.ClientLastContactTime),
        ["CurrentSubscriptionsCount"] = static s => new Variant(s.CurrentSubscriptionsCount),
        ["CurrentMonitoredItemsCount"] = static s => new Variant(s.CurrentMonitoredItemsCount),
        ["CurrentPublishRequestsInQueue"] = static s => new Variant(s.CurrentPublishRequestsInQueue),
        ["TotalRequestCount"] = static s => new Variant(s.TotalRequestCount),
        ["UnauthorizedRequestCount"] = static s => new Variant(s.UnauthorizedRequestCount),
        ["ReadCount"] = static s => new Variant(s.ReadCount),
        ["HistoryReadCount"] = static s => new Variant(s.HistoryReadCount),
        ["WriteCount"] = static s => new Variant(s.WriteCount),
        ["HistoryUpdateCount"] = static s => new Variant(s.HistoryUpdateCount),
        ["CallCount"] = static s => new Variant(s.CallCount),
        ["CreateMonitoredItemsCount"] = static s => new Variant(s.CreateMonitoredItemsCount),
        ["ModifyMonitoredItemsCount"] = static s => new Variant(s.ModifyMonitoredItemsCount),
        ["SetMonitoringModeCount"] = static s => new Variant(s.SetMonitoringModeCount),
        ["SetTriggeringCount"] = static s => new Variant(s.SetTriggeringCount),
        ["DeleteMonitoredItemsCount"] = static s => new Variant(s.DeleteMonitoredItemsCount),
        ["CreateSubscriptionCount"] = static s => new Variant(s.CreateSubscriptionCount),
        ["ModifySubscriptionCount"] = static s => new Variant(s.ModifySubscriptionCount),
        ["SetPublishingModeCount"] = static s => new Variant(s.SetPublishingModeCount),
        ["PublishCount"] = static s => new Variant(s.PublishCount),
        ["RepublishCount"] = static s => new Variant(s.RepublishCount),
        ["TransferSubscriptionsCount"] = static s => new Variant(s.TransferSubscriptionsCount),
        ["DeleteSubscriptionsCount"] = static s => new Variant(s.DeleteSubscriptionsCount),
        ["AddNodesCount"] = static s => new Variant(s.AddNodesCount),
        ["AddReferencesCount"] = static s => new Variant(s.AddReferencesCount),
        ["DeleteNodesCount"] = static s => new Variant(s.DeleteNodesCount),
        ["DeleteReferencesCount"] = static s => new Variant(s.DeleteReferencesCount),
        ["BrowseCount"] = static s => new Variant(s.BrowseCount),
        ["BrowseNextCount"] = static s => new Variant(s.BrowseNextCount),
        ["TranslateBrowsePathsToNodeIdsCount"] = static s => new Variant(s.TranslateBrowsePathsToNodeIdsCount),
        ["QueryFirstCount"] = static s => new Variant(s.QueryFirstCount),
        ["QueryNextCount"] = static s => new Variant(s.QueryNextCount),
        ["RegisterNodesCount"] = static s => new Variant(s.RegisterNodesCount),
        ["UnregisterNodesCount"] = static s => new Variant(s.UnregisterNodesCount),
    };

    public static IReadOnlyDictionary<string, Func<SessionSecurityDiagnosticsDataType, Variant>> Security { get; } = new Dictionary<string, Func<SessionSecurityDiagnosticsDataType, Variant>>(StringComparer.Ordinal)
    {
        ["SessionId"] = static s => new Variant(s.SessionId),
        ["ClientUserIdOfSession"] = static s => new Variant(s.ClientUserIdOfSession),
        ["ClientUserIdHistory"] = static s => Texts(s.ClientUserIdHistory),
        ["AuthenticationMechanism"] = static s => new Variant(s.AuthenticationMechanism),
        ["Encoding"] = static s => new Variant(s.Encoding),
        ["TransportProtocol"] = static s => new Variant(s.TransportProtocol),
        ["SecurityMode"] = static s => new Variant((int)s.SecurityMode),
        ["SecurityPolicyUri"] = static s => new Variant(s.SecurityPolicyUri),
        ["ClientCertificate"] = static s => new Variant(s.ClientCertificate),
    };

    public static IReadOnlyDictionary<string, Func<SubscriptionDiagnosticsDataType, Variant>> Subscription { get; } = new Dictionary<string, Func<SubscriptionDiagnosticsDataType, Variant>>(StringComparer.Ordinal)
    {
        ["SessionId"] = static s => new Variant(s.SessionId),
        ["SubscriptionId"] = static s => new Variant(s.SubscriptionId),
        ["Priority"] = static s => new Variant(s.Priority),
        ["PublishingInterval"] = static s => new Variant(s.PublishingInterval),
        ["MaxKeepAliveCount"] = static s => new Variant(s.MaxKeepAliveCount),
        ["MaxLifetimeCount"] = static s => new Variant(s.MaxLifetimeCount),
        ["MaxNotificationsPerPublish"] = static s => new Variant(s.MaxNotificationsPerPublish),
        ["PublishingEnabled"] = static s => new Variant(s.PublishingEnabled),
        ["ModifyCount"] = static s => new Variant(s.ModifyCount),
        ["EnableCount"] = static s => new Variant(s.EnableCount),
        ["DisableCount"] = static s => new Variant(s.DisableCount),
        ["RepublishRequestCount"] = static s => new Variant(s.RepublishRequestCount),
        ["RepublishMessageRequestCount"] = static s => new Variant(s.RepublishMessageRequestCount),
        ["RepublishMessageCount"] = static s => new Variant(s.RepublishMessageCount),
        ["TransferRequestCount"] = static s => new Variant(s.TransferRequestCount),
        ["TransferredToAltClientCount"] = static s => new Variant(s.TransferredToAltClientCount),
        ["TransferredToSameClientCount"] = static s => new Variant(s.TransferredToSameClientCount),
        ["PublishRequestCount"] = static s => new Variant(s.PublishRequestCount),
        ["DataChangeNotificationsCount"] = static s => new Variant(s.DataChangeNotificationsCount),
        ["EventNotificationsCount"] = static s => new Variant(s.EventNotificationsCount),
        ["NotificationsCount"] = static s => new Variant(s.NotificationsCount),
        ["LatePublishRequestCount"] = static s => new Variant(s.LatePublishRequestCount),
        ["CurrentKeepAliveCount"] = static s => new Variant(s.CurrentKeepAliveCount),
        ["CurrentLifetimeCount"] = static s => new Variant(s.CurrentLifetimeCount),
        ["UnacknowledgedMessageCount"] = static s => new Variant(s.UnacknowledgedMessageCount),
        ["DiscardedMessageCount"] = static s => new Variant(s.DiscardedMessageCount),
        ["MonitoredItemCount"] = static s => new Variant(s.MonitoredItemCount),
        ["DisabledMonitoredItemCount"] = static s => new Variant(s.DisabledMonitoredItemCount),
        ["MonitoringQueueOverflowCount"] = static s => new Variant(s.MonitoringQueueOverflowCount),
        ["NextSequenceNumber"] = static s => new Variant(s.NextSequenceNumber),
        ["EventQueueOverflowCount"] = static s => new Variant(s.EventQueueOverflowCount),
    };

    private static Variant Texts(string?[]? texts) => Variant.FromArray(BuiltInType.String, texts ?? []);
}
