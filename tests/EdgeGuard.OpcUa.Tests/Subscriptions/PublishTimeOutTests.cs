using EdgeGuard.OpcUa.Tests.Server;

namespace EdgeGuard.OpcUa.Tests.Subscriptions;

/// <summary>The time-out hint of Publish (OPC 10000-4, 7.32): every request is answered, one whose time is over with BadTimeout.</summary>
public sealed class PublishTimeOutTests
{
    private static readonly NodeId Outlet = new(2, "N-1/outlet");

    [Fact]
    public void One_that_is_over_when_a_cycle_comes_is_answered_and_the_next_one_carries_the_values()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        client.Monitor(client.Subscribe(intervalMs: 500).SubscriptionId, Outlet);
        client.Publish(1, timeoutHintMs: 300);
        client.Publish(1);
        bench.Jump(600);
        client.Pump();
        Assert.Equal([StatusCode.BadTimeout, StatusCode.Good], client.Published.Select(static answer => answer.ResponseHeader.ServiceResult));
        Assert.Single(client.NextData());
    }

    [Fact]
    public void One_behind_another_without_a_hint_is_answered_when_its_time_is_over()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        client.Subscribe(intervalMs: 2_000, keepAlives: 100);
        client.Publish(1);
        client.Publish(1, timeoutHintMs: 300);
        bench.Run(290);
        Assert.Empty(client.Published);
        bench.Run(20);
        Assert.Equal([StatusCode.BadTimeout], client.Published.Select(static answer => answer.ResponseHeader.ServiceResult));
        bench.Run(2_000);
        Assert.Equal([StatusCode.BadTimeout, StatusCode.Good], client.Published.Select(static answer => answer.ResponseHeader.ServiceResult));
    }
}
