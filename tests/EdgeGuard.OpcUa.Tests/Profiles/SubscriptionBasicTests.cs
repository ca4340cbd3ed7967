using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.Tests.Server;

namespace EdgeGuard.OpcUa.Tests.Profiles;

/// <summary>What the units Subscription Basic and Monitor Value Change ask for beyond the points of the contract: ModifySubscription, and parts of arrays as items.</summary>
public sealed class SubscriptionBasicTests
{
    private static readonly NodeId Trend = new(2, "N-1/trend");

    [Fact]
    public void A_modified_subscription_publishes_at_its_new_interval_and_keep_alive()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        uint id = client.Subscribe(intervalMs: 1000, keepAlives: 50, lifetime: 500).SubscriptionId;
        client.Monitor(id, bench.Outlet.NodeId);
        client.Publish(20);
        bench.Run(1010);
        Assert.Single(client.NextData());
        ModifySubscriptionResponse modified = client.Ask<ModifySubscriptionResponse>(new ModifySubscriptionRequest { SubscriptionId = id, RequestedPublishingInterval = 100, RequestedMaxKeepAliveCount = 3, RequestedLifetimeCount = 30 });
        Assert.Equal((100.0, 3u, 30u), (modified.RevisedPublishingInterval, modified.RevisedMaxKeepAliveCount, modified.RevisedLifetimeCount));
        bench.Set(bench.Outlet, 77);
        bench.Run(210);
        Assert.Equal(77.0, Assert.Single(client.NextData()).Value.Value.AsDouble);
        client.Published.Clear();
        bench.Run(620);
        Assert.Equal(2, client.Published.Count);
        Assert.All(client.Published, static answer => Assert.Equal(2u, ((PublishResponse)answer).NotificationMessage.SequenceNumber - 1));
        Assert.Equal(StatusCode.BadSubscriptionIdInvalid, client.AskFault(new ModifySubscriptionRequest { SubscriptionId = 99 }));
    }

    [Fact]
    public void A_part_of_an_array_is_monitored_and_a_change_elsewhere_is_none()
    {
        using var bench = new ServerBench();
        SetTrend(bench, 1, 2, 3);
        BenchClient client = bench.Activated();
        uint id = client.Subscribe().SubscriptionId;
        Assert.Equal(StatusCode.Good, Monitor(client, id, "1:2", handle: 12).StatusCode);
        Assert.Equal(StatusCode.Good, Monitor(client, id, "0", handle: 10).StatusCode);
        client.Publish(5);
        bench.Run(110);
        Assert.Equal(["10: 1", "12: 2 3"], Told(client));
        SetTrend(bench, 9, 2, 3);
        bench.Run(110);
        Assert.Equal(["10: 9"], Told(client));
        SetTrend(bench, 9, 2, 4);
        bench.Run(110);
        Assert.Equal(["12: 2 4"], Told(client));
    }

    [Fact]
    public void A_range_that_is_malformed_is_refused_and_one_without_elements_says_so_until_there_are()
    {
        using var bench = new ServerBench();
        SetTrend(bench, 1, 2);
        BenchClient client = bench.Activated();
        uint id = client.Subscribe().SubscriptionId;
        Assert.Equal(StatusCode.BadIndexRangeInvalid, Monitor(client, id, "2:1", handle: 1).StatusCode);
        Assert.Equal(StatusCode.Good, Monitor(client, id, "2", handle: 2).StatusCode);
        client.Publish(5);
        bench.Run(110);
        Assert.Equal(StatusCode.BadIndexRangeNoData, Assert.Single(client.NextData()).Value.Status);
        SetTrend(bench, 1, 2, 3);
        bench.Run(110);
        Assert.Equal(["2: 3"], Told(client));
    }

    private static void SetTrend(ServerBench bench, params double[] values) => bench.Trend.Set(Variant.FromArray(BuiltInType.Double, values), bench.Now.Utc);

    private static string[] Told(BenchClient client) =>
        [.. client.NextData().Select(static item => $"{item.ClientHandle}: {string.Join(' ', ((double[])item.Value.Value.Elements!).Select(static value => (int)value))}").Order(StringComparer.Ordinal)];

    private static MonitoredItemCreateResult Monitor(BenchClient client, uint subscription, string range, uint handle) =>
        client.Ask<CreateMonitoredItemsResponse>(new CreateMonitoredItemsRequest
        {
            SubscriptionId = subscription,
            TimestampsToReturn = TimestampsToReturn.Both,
            ItemsToCreate =
            [
                new MonitoredItemCreateRequest
                {
                    ItemToMonitor = new ReadValueId { NodeId = Trend, AttributeId = (uint)AttributeId.Value, IndexRange = range },
                    MonitoringMode = MonitoringMode.Reporting,
                    RequestedParameters = new MonitoringParameters { ClientHandle = handle, SamplingInterval = 100, QueueSize = 1, DiscardOldest = true },
                },
            ],
        }).Results![0];
}
