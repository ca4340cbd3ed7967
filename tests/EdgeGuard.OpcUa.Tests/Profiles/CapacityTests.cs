using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.Tests.Server;

namespace EdgeGuard.OpcUa.Tests.Profiles;

/// <summary>
/// The least numbers that profiles ask for (OPC 10000-7 version 1.04, 6.6.15 to 6.6.18, 6.6.67 and 6.6.70), with the limits the server has by
/// default: 50 sessions, 5 subscriptions in half of them and 225 in all, 500 items in half of the subscriptions with
/// queues of 5, 10 Publish requests that wait.
/// </summary>
public sealed class CapacityTests
{
    private const int Sessions = 50;
    private const int SubscriptionsInAll = 225;
    private const int Items = 500;
    private const uint Queue = 5;

    [Fact]
    public void Fifty_sessions_are_served_side_by_side()
    {
        using var bench = new ServerBench();
        BenchClient[] clients = [.. Enumerable.Range(0, Sessions).Select(_ => bench.Activated())];
        Assert.Equal(Sessions, bench.Server.SessionCount);
        Assert.Equal(Sessions, clients.Select(static client => client.Token).Distinct().Count());
        for (int round = 1; round <= 2; round++)
        {
            bench.Set(bench.Outlet, round);
            Assert.All(clients, client => Assert.Equal(round, client.Read(bench.Outlet.NodeId).Value.AsDouble));
        }
    }

    [Fact]
    public void Subscriptions_and_items_of_the_enhanced_facet_are_granted_and_report()
    {
        using var bench = new ServerBench();
        (int subscriptions, int items, BenchClient last) = (0, 0, bench.Activated());
        for (int session = 0; session < Sessions; session++)
        {
            BenchClient client = session == 0 ? last : bench.Activated();
            for (int i = 0; i < (session % 2 == 0 ? 5 : 4); i++)
            {
                uint id = client.Subscribe(intervalMs: 1000).SubscriptionId;
                items += subscriptions++ % 2 == 0 ? Monitor(bench, client, id) : 0;
            }

            last = client;
        }

        Assert.Equal((SubscriptionsInAll, SubscriptionsInAll), (subscriptions, bench.Server.SubscriptionCount));
        Assert.Equal((SubscriptionsInAll + 1) / 2 * Items, items);
        Report(bench, last);
    }

    [Fact]
    public void Ten_publish_requests_wait_at_once_and_are_all_used()
    {
        const int Requests = 10;
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        uint id = client.Subscribe(keepAlives: 1).SubscriptionId;
        client.Monitor(id, bench.Outlet.NodeId);
        client.Publish(Requests);
        Assert.Empty(client.Published);
        bench.Run(100 * (Requests + 1));
        Assert.Equal(Requests, client.Published.Count);
        Assert.All(client.Published, static answer => Assert.Equal(StatusCode.Good, Assert.IsType<PublishResponse>(answer).ResponseHeader.ServiceResult));
    }

    private static int Monitor(ServerBench bench, BenchClient client, uint subscription)
    {
        MonitoredItemCreateResult[] results = client.Ask<CreateMonitoredItemsResponse>(new CreateMonitoredItemsRequest
        {
            SubscriptionId = subscription,
            TimestampsToReturn = TimestampsToReturn.Both,
            ItemsToCreate = [.. Enumerable.Range(0, Items).Select(i => new MonitoredItemCreateRequest
            {
                ItemToMonitor = new ReadValueId { NodeId = bench.Outlet.NodeId, AttributeId = (uint)AttributeId.Value },
                MonitoringMode = MonitoringMode.Reporting,
                RequestedParameters = new MonitoringParameters { ClientHandle = (uint)i, SamplingInterval = 100, QueueSize = Queue, DiscardOldest = true },
            })],
        }).Results!;
        Assert.All(results, static result => Assert.Equal((StatusCode.Good, Queue), (result.StatusCode, result.RevisedQueueSize)));
        return results.Length;
    }

    // With all of that at work, one more subscription of 500 items reports each of five changes of each item.
    private static void Report(ServerBench bench, BenchClient client)
    {
        const int Changes = 5;
        uint id = client.Subscribe(intervalMs: 1000).SubscriptionId;
        Monitor(bench, client, id);
        client.Publish(10);
        bench.Run(1000);
        client.Published.Clear();
        for (int change = 1; change <= Changes; change++)
        {
            bench.Set(bench.Outlet, 100 + change);
            bench.Run(100);
        }

        bench.Run(1000);
        MonitoredItemNotification[] told = [.. client.Published.OfType<PublishResponse>().Where(answer => answer.SubscriptionId == id).SelectMany(BenchClient.Data)];
        Assert.Equal(Items * Changes, told.Length);
        Assert.All(told.GroupBy(static item => item.ClientHandle), static item => Assert.Equal([101, 102, 103, 104, 105], item.Select(static value => value.Value.Value.AsDouble)));
    }
}
