using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;
using static EdgeGuard.OpcUa.Tests.Server.DiagnosticsReader;

namespace EdgeGuard.OpcUa.Tests.Server;

/// <summary>
/// The variable that each subscription has (OPC 10000-5, 7.11 and 7.12): exposed by the array of the server and by that of
/// its session, wherever it goes, with counters that are true.
/// </summary>
public sealed class SubscriptionDiagnosticsTests
{
    private static readonly NodeId Outlet = new(2, "N-1/outlet");
    private static readonly NodeId Flow = new(2, "N-1/flow");

    [Fact]
    public void A_subscription_has_a_variable_by_its_number_below_both_arrays()
    {
        using var bench = new ServerBench(ServerBench.Secured(new BenchUsers()));
        BenchClient engineer = Engineer(bench);
        engineer.Subscribe();
        BenchClient watched = bench.Activated();
        uint id = watched.Subscribe(intervalMs: 250, priority: 7).SubscriptionId;
        NodeId ofSession = Component(engineer, watched.Session.SessionId, "SubscriptionDiagnosticsArray");
        ReferenceDescription found = Assert.Single(Browse(engineer, ofSession));
        Assert.Equal((new QualifiedName(1, "2"), new NodeId(2172)), (found.BrowseName, found.TypeDefinition.NodeId));
        Assert.Equal(found.NodeId.NodeId, Ids(engineer, AllSubscriptions)[1]);
        Assert.Equal(Names(engineer, new NodeId(2172)), Names(engineer, found.NodeId.NodeId));
        SubscriptionDiagnosticsDataType told = Structure<SubscriptionDiagnosticsDataType>(engineer, found.NodeId.NodeId);
        Assert.Equal((watched.Session.SessionId, id, (byte)7, 250.0), (told.SessionId, told.SubscriptionId, told.Priority, told.PublishingInterval));
        Assert.Equal(7, Good(engineer, Component(engineer, found.NodeId.NodeId, "Priority")).AsInteger);

        // The session's array tells its own, the server's all of them.
        Assert.Equal(id, Assert.Single(Array<SubscriptionDiagnosticsDataType>(engineer, ofSession)).SubscriptionId);
        Assert.Equal([1u, id], Array<SubscriptionDiagnosticsDataType>(engineer, AllSubscriptions).Select(static entry => entry.SubscriptionId));
    }

    [Fact]
    public void Its_counters_are_those_of_what_the_client_did_and_got()
    {
        using var bench = new ServerBench(ServerBench.Secured(new BenchUsers()));
        BenchClient engineer = Engineer(bench);
        BenchClient watched = bench.Activated();
        uint id = watched.Subscribe().SubscriptionId;
        watched.Monitor(id, Outlet, queue: 10);
        watched.Publish(4);
        for (int i = 0; i < 3; i++)
        {
            bench.Set(bench.Outlet, 50 + i);
            bench.Run(100);
        }

        int told = watched.Published.OfType<PublishResponse>().Sum(static answer => BenchClient.Data(answer).Length);
        NodeId root = Ids(engineer, AllSubscriptions)[0];
        Assert.Equal(4, told); // the first value and three changes
        Assert.Equal(told, Counter(engineer, root, "DataChangeNotificationsCount"));
        Assert.Equal(watched.Published.Count, Counter(engineer, root, "PublishRequestCount"));
        Assert.Equal(watched.Published.Count, Counter(engineer, root, "UnacknowledgedMessageCount"));
        Assert.Equal(watched.Published.Count + 1, Counter(engineer, root, "NextSequenceNumber"));
        watched.Ask<SetPublishingModeResponse>(new SetPublishingModeRequest { SubscriptionIds = [id], PublishingEnabled = false });
        Assert.Equal((1, 0), (Counter(engineer, root, "DisableCount"), Counter(engineer, root, "EnableCount")));
        Assert.False(Good(engineer, Component(engineer, root, "PublishingEnabled")).AsBoolean);
    }

    // Items are disabled, enabled, deleted while either; the figures stay those of the items that are there.
    [Fact]
    public void Items_and_disabled_items_are_counted_through_all_their_changes()
    {
        using var bench = new ServerBench(ServerBench.Secured(new BenchUsers()));
        BenchClient engineer = Engineer(bench);
        BenchClient watched = bench.Activated();
        uint id = watched.Subscribe().SubscriptionId;
        NodeId root = Ids(engineer, AllSubscriptions)[0];
        uint[] items = [.. new[] { MonitoringMode.Reporting, MonitoringMode.Disabled, MonitoringMode.Sampling, MonitoringMode.Disabled }.Select(mode => watched.Monitor(id, Outlet, mode: mode).MonitoredItemId)];
        Assert.Equal((4, 2), Items(engineer, root));
        Mode(watched, id, MonitoringMode.Disabled, items[0], items[1]);
        Assert.Equal((4, 3), Items(engineer, root));
        Mode(watched, id, MonitoringMode.Reporting, items[1], items[2]);
        Assert.Equal((4, 2), Items(engineer, root));
        watched.Ask<DeleteMonitoredItemsResponse>(new DeleteMonitoredItemsRequest { SubscriptionId = id, MonitoredItemIds = [items[0], items[2]] });
        Assert.Equal((2, 1), Items(engineer, root));
    }

    // OPC 10000-5, 12.15: how often a notification was dropped, which stays true when the item is gone.
    [Fact]
    public void Overflows_of_queues_are_counted_for_ever()
    {
        using var bench = new ServerBench(ServerBench.Secured(new BenchUsers()));
        BenchClient engineer = Engineer(bench);
        BenchClient watched = bench.Activated();
        uint id = watched.Subscribe(intervalMs: 60_000, lifetime: 1_000).SubscriptionId;
        uint two = watched.Monitor(id, Outlet, queue: 2).MonitoredItemId;
        watched.Monitor(id, Flow, queue: 1);
        for (int i = 0; i < 5; i++)
        {
            bench.Set(bench.Outlet, 30 + i);
            bench.Set(bench.Flow, 30 + i);
            bench.Run(100);
        }

        // Six values with the first one; four did not fit. A queue of one has no overflow (OPC 10000-4, 5.12.1.5).
        NodeId root = Ids(engineer, AllSubscriptions)[0];
        Assert.Equal(4, Counter(engineer, root, "MonitoringQueueOverflowCount"));
        watched.Ask<DeleteMonitoredItemsResponse>(new DeleteMonitoredItemsRequest { SubscriptionId = id, MonitoredItemIds = [two] });
        Assert.Equal(4, Counter(engineer, root, "MonitoringQueueOverflowCount"));

        // A queue that is made shorter drops what does not fit any more: three of five.
        uint five = watched.Monitor(id, Outlet, queue: 5).MonitoredItemId;
        for (int i = 0; i < 4; i++)
        {
            bench.Set(bench.Outlet, 40 + i);
            bench.Run(100);
        }

        Assert.Equal(4, Counter(engineer, root, "MonitoringQueueOverflowCount"));
        MonitoredItemModifyRequest shorter = new() { MonitoredItemId = five, RequestedParameters = new MonitoringParameters { SamplingInterval = 100, QueueSize = 2, DiscardOldest = true } };
        watched.Ask<ModifyMonitoredItemsResponse>(new ModifyMonitoredItemsRequest { SubscriptionId = id, TimestampsToReturn = TimestampsToReturn.Both, ItemsToModify = [shorter] });
        Assert.Equal(7, Counter(engineer, root, "MonitoringQueueOverflowCount"));
    }

    [Fact]
    public void It_moves_with_a_transfer_outlives_its_session_and_goes_at_its_end()
    {
        using var bench = new ServerBench(ServerBench.Secured(new BenchUsers()));
        BenchClient engineer = Engineer(bench);
        BenchClient first = bench.Activated(SecurityPolicy.Basic256Sha256, MessageSecurityMode.Sign);
        BenchClient second = bench.Activated(SecurityPolicy.Basic256Sha256, MessageSecurityMode.Sign);
        uint id = first.Subscribe(lifetime: 100).SubscriptionId;
        uint other = first.Subscribe(lifetime: 100).SubscriptionId;
        NodeId[] both = Ids(engineer, AllSubscriptions);
        NodeId ofFirst = Component(engineer, first.Session.SessionId, "SubscriptionDiagnosticsArray");
        NodeId ofSecond = Component(engineer, second.Session.SessionId, "SubscriptionDiagnosticsArray");
        second.Ask<TransferSubscriptionsResponse>(new TransferSubscriptionsRequest { SubscriptionIds = [id] });
        Assert.Equal([both[1]], Ids(engineer, ofFirst));
        Assert.Equal([both[0]], Ids(engineer, ofSecond));
        Assert.Equal(second.Session.SessionId, Good(engineer, Component(engineer, both[0], "SessionId")).AsNodeId);

        // The session goes and leaves its subscription to be taken over, by one more transfer.
        second.Ask<CloseSessionResponse>(new CloseSessionRequest { DeleteSubscriptions = false });
        Assert.Equal(both, Ids(engineer, AllSubscriptions));
        Assert.True(Good(engineer, Component(engineer, both[0], "SessionId")).AsNodeId.IsNull);
        BrowseDescription above = Components(both[0]) with { BrowseDirection = BrowseDirection.Inverse };
        Assert.Equal(AllSubscriptions, Assert.Single(engineer.Ask<BrowseResponse>(new BrowseRequest { NodesToBrowse = [above] }).Results![0].References!).NodeId.NodeId);
        first.Ask<TransferSubscriptionsResponse>(new TransferSubscriptionsRequest { SubscriptionIds = [id] });
        Assert.Equal([both[1], both[0]], Ids(engineer, ofFirst));
        first.Ask<DeleteSubscriptionsResponse>(new DeleteSubscriptionsRequest { SubscriptionIds = [other] });
        Assert.Equal([both[0]], Ids(engineer, ofFirst));
        Assert.Equal([both[0]], Ids(engineer, AllSubscriptions));
        Assert.Equal(StatusCode.BadNodeIdUnknown, engineer.Read(both[1]).Status);

        // Nobody publishes: its lifetime of a hundred cycles passes.
        bench.Run(12_000);
        Assert.Empty(Ids(engineer, AllSubscriptions));
        Assert.Empty(Ids(engineer, ofFirst));
        Assert.Equal(StatusCode.BadNodeIdUnknown, engineer.Read(both[0]).Status);
    }

    private static long Counter(BenchClient client, NodeId root, string name) => Good(client, Component(client, root, name)).AsInteger;

    private static (long, long) Items(BenchClient client, NodeId root) => (Counter(client, root, "MonitoredItemCount"), Counter(client, root, "DisabledMonitoredItemCount"));

    private static void Mode(BenchClient client, uint id, MonitoringMode mode, params uint[] items) =>
        client.Ask<SetMonitoringModeResponse>(new SetMonitoringModeRequest { SubscriptionId = id, MonitoringMode = mode, MonitoredItemIds = items });

    private static string[] Names(BenchClient client, NodeId node) => [.. Browse(client, node).Select(static reference => reference.BrowseName.ToString()).Order(StringComparer.Ordinal)];
}
