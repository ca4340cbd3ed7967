using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.AddressSpace;

/// <summary>
/// Fills the Server object, which clients read before anything else: arrays, status, capabilities with all operation
/// limits, diagnostics (OPC 10000-5, 6.3). What does not change is stored, the rest is made when it is read.
/// </summary>
public sealed class ServerObject
{
    // Who sees what other clients do; what concerns their security is for security administrators alone.
    internal const CallerRoles Diagnosticians = CallerRoles.Engineer | CallerRoles.ConfigureAdmin | CallerRoles.SecurityAdmin;
    internal const CallerRoles SecurityDiagnosticians = CallerRoles.SecurityAdmin;

    private readonly NodeSpace _space;
    private readonly ServerFacts _facts;
    private readonly IServerState _state;
    private readonly BuildInfo _build;

    private ServerObject(NodeSpace space, ServerFacts facts, IServerState state)
    {
        (_space, _facts, _state) = (space, facts, state);
        _build = new BuildInfo
        {
            ProductUri = facts.ProductUri,
            ManufacturerName = facts.ManufacturerName,
            ProductName = facts.ProductName,
            SoftwareVersion = facts.SoftwareVersion,
            BuildNumber = facts.BuildNumber,
            BuildDate = facts.BuildDate,
        };
    }

    /// <summary>Gives the nodes below Server their values; the space holds the standard nodes already.</summary>
    public static void Fill(NodeSpace space, ServerFacts facts, IServerState state)
    {
        ArgumentNullException.ThrowIfNull(space);
        ArgumentNullException.ThrowIfNull(facts);
        var server = new ServerObject(space, facts, state);
        server.FillArrays();
        server.FillStatus(space.Standard<VariableNode>(StandardIds.ServerStatus));
        server.FillCapabilities(space.Standard<ObjectNode>(StandardIds.ServerCapabilities));
        server.FillOperationLimits(Child<ObjectNode>(space.Standard<ObjectNode>(StandardIds.ServerCapabilities), "OperationLimits"));
        server.FillDiagnostics(space.Standard<ObjectNode>(StandardIds.ServerDiagnostics));
    }

    /// <summary>The node below with this browse name.</summary>
    /// <exception cref="InvalidOperationException">There is none of this kind.</exception>
    internal static T Child<T>(Node parent, string name)
        where T : Node
    {
        foreach (Reference reference in parent.References)
        {
            if (reference is { IsForward: true, Target: T child } && string.Equals(child.BrowseName.Name, name, StringComparison.Ordinal))
            {
                return child;
            }
        }

        throw new InvalidOperationException($"{parent} has no {typeof(T).Name} {name}");
    }

    private static void Provide(Node parent, string name, Func<UaDateTime, DataValue> read) => Child<VariableNode>(parent, name).Provider = new ValueProvider(read);

    private void Store(Node parent, string name, Variant value) => Child<VariableNode>(parent, name).Set(value, _space.StartTime);

    private void FillArrays()
    {
        Node server = _space.Standard<ObjectNode>(StandardIds.Server);
        Store(server, "ServerArray", Strings([_facts.ApplicationUri]));
        Store(server, "NamespaceArray", Strings(["http://opcfoundation.org/UA/", _facts.ApplicationUri, .. _facts.Namespaces]));
        Provide(server, "ServiceLevel", now => new DataValue(new Variant(_state.ServiceLevel), StatusCode.Good, now));
        Provide(server, "Auditing", now => new DataValue(new Variant(_state.Auditing), StatusCode.Good, now));
        Store(Child<ObjectNode>(server, "ServerRedundancy"), "RedundancySupport", new Variant(0));
    }

    private void FillStatus(VariableNode status)
    {
        status.Provider = new ValueProvider(now => new DataValue(new Variant(Status(now)), StatusCode.Good, now));
        Store(status, "StartTime", new Variant(_space.StartTime));
        Provide(status, "CurrentTime", static now => new DataValue(new Variant(now), StatusCode.Good, now));
        Provide(status, "State", _ => new DataValue(new Variant((int)_state.State), StatusCode.Good, _state.StateSince));
        Provide(status, "SecondsTillShutdown", now => new DataValue(new Variant(_state.SecondsTillShutdown), StatusCode.Good, now));
        Provide(status, "ShutdownReason", now => new DataValue(new Variant(_state.ShutdownReason), StatusCode.Good, now));
        VariableNode build = Child<VariableNode>(status, "BuildInfo");
        build.Set(new Variant(_build), _space.StartTime);
        Store(build, "ProductUri", new Variant(_build.ProductUri));
        Store(build, "ManufacturerName", new Variant(_build.ManufacturerName));
        Store(build, "ProductName", new Variant(_build.ProductName));
        Store(build, "SoftwareVersion", new Variant(_build.SoftwareVersion));
        Store(build, "BuildNumber", new Variant(_build.BuildNumber));
        Store(build, "BuildDate", new Variant(_build.BuildDate));
    }

    private ServerStatusDataType Status(UaDateTime now) => new()
    {
        StartTime = _space.StartTime,
        CurrentTime = now,
        State = _state.State,
        BuildInfo = _build,
        SecondsTillShutdown = _state.SecondsTillShutdown,
        ShutdownReason = _state.ShutdownReason,
    };

    private void FillCapabilities(Node capabilities)
    {
        OperationLimits limits = _facts.Limits;
        Store(capabilities, "ServerProfileArray", Strings([.. _facts.Profiles]));
        Store(capabilities, "LocaleIdArray", Strings([.. _facts.LocaleIds]));
        Store(capabilities, "MinSupportedSampleRate", new Variant(limits.SamplingIntervalMinMs));
        Store(capabilities, "MaxBrowseContinuationPoints", new Variant(limits.BrowseContinuationPoints));
        Store(capabilities, "MaxQueryContinuationPoints", new Variant((ushort)0));
        Store(capabilities, "MaxHistoryContinuationPoints", new Variant((ushort)0));
        Store(capabilities, "SoftwareCertificates", Variant.FromArray(BuiltInType.ExtensionObject, Array.Empty<ExtensionObject>()));
        Store(capabilities, "MaxArrayLength", new Variant(limits.ArrayLength));
        Store(capabilities, "MaxStringLength", new Variant(limits.StringLengthBytes));
        Store(capabilities, "MaxByteStringLength", new Variant(limits.ByteStringLengthBytes));
        Store(capabilities, "MaxSessions", new Variant(limits.Sessions));
        Store(capabilities, "MaxSubscriptions", new Variant(limits.Subscriptions));
        Store(capabilities, "MaxSubscriptionsPerSession", new Variant(limits.SubscriptionsPerSession));
        Store(capabilities, "MaxMonitoredItems", new Variant(limits.MonitoredItems));
        Store(capabilities, "MaxMonitoredItemsPerSubscription", new Variant(limits.MonitoredItemsPerSubscription));
        Store(capabilities, "MaxMonitoredItemsQueueSize", new Variant(limits.MonitoredItemQueueSize));
    }

    // Services that are not supported announce 0 here as the standard's "no limit"; the service itself is refused.
    private void FillOperationLimits(Node node)
    {
        OperationLimits limits = _facts.Limits;
        Store(node, "MaxNodesPerRead", new Variant(limits.NodesPerRead));
        Store(node, "MaxNodesPerHistoryReadData", new Variant(limits.NodesPerHistoryReadData));
        Store(node, "MaxNodesPerHistoryReadEvents", new Variant(limits.NodesPerHistoryReadEvents));
        Store(node, "MaxNodesPerWrite", new Variant(limits.NodesPerWrite));
        Store(node, "MaxNodesPerHistoryUpdateData", new Variant(0u));
        Store(node, "MaxNodesPerHistoryUpdateEvents", new Variant(0u));
        Store(node, "MaxNodesPerMethodCall", new Variant(limits.NodesPerMethodCall));
        Store(node, "MaxNodesPerBrowse", new Variant(limits.NodesPerBrowse));
        Store(node, "MaxNodesPerRegisterNodes", new Variant(limits.NodesPerRegisterNodes));
        Store(node, "MaxNodesPerTranslateBrowsePathsToNodeIds", new Variant(limits.NodesPerTranslateBrowsePaths));
        Store(node, "MaxNodesPerNodeManagement", new Variant(0u));
        Store(node, "MaxMonitoredItemsPerCall", new Variant(limits.MonitoredItemsPerCall));
    }

    private void FillDiagnostics(Node diagnostics)
    {
        VariableNode enabled = Child<VariableNode>(diagnostics, "EnabledFlag");
        enabled.AccessLevel = AccessLevels.CurrentRead;
        enabled.Provider = new ValueProvider(now => new DataValue(new Variant(_state.DiagnosticsSummary is not null), StatusCode.Good, now));
        VariableNode summary = Child<VariableNode>(diagnostics, "ServerDiagnosticsSummary");
        summary.Provider = Counters(static counters => new Variant(counters));
        foreach ((string name, Func<ServerDiagnosticsSummaryDataType, Variant> read) in SummaryFields)
        {
            Child<VariableNode>(summary, name).Provider = Counters(read);
        }

        VariableNode subscriptions = Child<VariableNode>(diagnostics, "SubscriptionDiagnosticsArray");
        subscriptions.Provider = Structures(() => _state.SubscriptionDiagnostics);
        subscriptions.ReadRoles = Diagnosticians;
        Node sessions = Child<ObjectNode>(diagnostics, "SessionsDiagnosticsSummary");
        VariableNode all = Child<VariableNode>(sessions, "SessionDiagnosticsArray");
        all.Provider = Structures(() => _state.SessionDiagnostics);
        all.ReadRoles = Diagnosticians;
        VariableNode security = Child<VariableNode>(sessions, "SessionSecurityDiagnosticsArray");
        security.Provider = Structures(() => _state.SessionSecurityDiagnostics);
        security.ReadRoles = SecurityDiagnosticians;
    }

    private static readonly (string Name, Func<ServerDiagnosticsSummaryDataType, Variant> Read)[] SummaryFields =
    [
        ("ServerViewCount", static c => new Variant(c.ServerViewCount)),
        ("CurrentSessionCount", static c => new Variant(c.CurrentSessionCount)),
        ("CumulatedSessionCount", static c => new Variant(c.CumulatedSessionCount)),
        ("SecurityRejectedSessionCount", static c => new Variant(c.SecurityRejectedSessionCount)),
        ("RejectedSessionCount", static c => new Variant(c.RejectedSessionCount)),
        ("SessionTimeoutCount", static c => new Variant(c.SessionTimeoutCount)),
        ("SessionAbortCount", static c => new Variant(c.SessionAbortCount)),
        ("CurrentSubscriptionCount", static c => new Variant(c.CurrentSubscriptionCount)),
        ("CumulatedSubscriptionCount", static c => new Variant(c.CumulatedSubscriptionCount)),
        ("PublishingIntervalCount", static c => new Variant(c.PublishingIntervalCount)),
        ("SecurityRejectedRequestsCount", static c => new Variant(c.SecurityRejectedRequestsCount)),
        ("RejectedRequestsCount", static c => new Variant(c.RejectedRequestsCount)),
    ];

    // While no diagnostics are kept their nodes are not readable (OPC 10000-5, 6.3.3; the status from memory).
    private ValueProvider Counters(Func<ServerDiagnosticsSummaryDataType, Variant> read) => new(now =>
        _state.DiagnosticsSummary is { } counters ? new DataValue(read(counters), StatusCode.Good, now) : new DataValue(StatusCode.BadNotReadable));

    private ValueProvider Structures(Func<IReadOnlyList<IUaStructure>> read) => new(now =>
    {
        if (_state.DiagnosticsSummary is null)
        {
            return new DataValue(StatusCode.BadNotReadable);
        }

        ExtensionObject[] objects = [.. read().Select(structure => new ExtensionObject(structure))];
        return new DataValue(Variant.FromArray(BuiltInType.ExtensionObject, objects), StatusCode.Good, now);
    });

    private static Variant Strings(string[] texts) => Variant.FromArray(BuiltInType.String, texts);
}
