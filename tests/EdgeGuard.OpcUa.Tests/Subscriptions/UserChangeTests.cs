using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Tests.Server;

namespace EdgeGuard.OpcUa.Tests.Subscriptions;

/// <summary>A session that is activated again for another user (OPC 10000-4, 5.6.3): what it monitors already is told with the rights of the new one.</summary>
public sealed class UserChangeTests
{
    private const uint Sessions = 3707;
    private static readonly NodeId Outlet = new(2, "N-1/outlet");
    private static readonly NodeId Flow = new(2, "N-1/flow");

    [Fact]
    public void Diagnostics_that_an_administrator_monitored_are_denied_to_who_comes_after_him()
    {
        using ServerBench bench = Bench();
        BenchClient client = Engineer(bench);
        uint id = client.Subscribe().SubscriptionId;
        Assert.Equal(StatusCode.Good, client.Monitor(id, new NodeId(Sessions)).StatusCode);
        client.Publish(20);
        bench.Run(210);
        Assert.All(client.NextData(), static told => Assert.Equal(StatusCode.Good, told.Value.Status));

        client.Activate();
        client.Published.Clear();
        bench.Run(500);
        Assert.Equal([StatusCode.BadUserAccessDenied], Told(client).Select(static told => told.Value.Status));
    }

    [Fact]
    public void A_stored_value_is_denied_once_and_its_changes_stay_untold()
    {
        using ServerBench bench = Bench();
        bench.Flow.ReadRoles = CallerRoles.SecurityAdmin;
        BenchClient client = Engineer(bench);
        uint id = client.Subscribe().SubscriptionId;
        client.Monitor(id, Flow, queue: 10, handle: 1);
        client.Monitor(id, Outlet, queue: 10, handle: 2);
        client.Publish(20);
        bench.Run(110);
        Assert.Equal(2, Told(client).Count);

        // Sampled for the administrator, not told yet when the user changes.
        client.Ask<SetPublishingModeResponse>(new SetPublishingModeRequest { SubscriptionIds = [id], PublishingEnabled = false });
        bench.Set(bench.Flow, 101);
        bench.Set(bench.Outlet, 21);
        bench.Run(110);
        client.Activate();
        client.Ask<SetPublishingModeResponse>(new SetPublishingModeRequest { SubscriptionIds = [id], PublishingEnabled = true });
        for (int i = 0; i < 4; i++)
        {
            bench.Set(bench.Flow, 102 + i);
            bench.Run(110);
        }

        List<MonitoredItemNotification> told = Told(client);
        Assert.Equal([StatusCode.BadUserAccessDenied], told.Where(static t => t.ClientHandle == 1).Select(static t => t.Value.Status));
        Assert.Equal([21.0], told.Where(static t => t.ClientHandle == 2).Select(static t => t.Value.Value.AsDouble));
    }

    [Fact]
    public void What_the_former_user_was_told_is_not_told_again_to_the_next()
    {
        using ServerBench bench = Bench();
        BenchClient client = Engineer(bench);
        uint id = client.Subscribe().SubscriptionId;
        client.Monitor(id, new NodeId(Sessions));
        client.Publish(3);
        bench.Run(110);
        var request = new RepublishRequest { SubscriptionId = id, RetransmitSequenceNumber = 1 };
        Assert.Equal(1u, client.Ask<RepublishResponse>(request).NotificationMessage.SequenceNumber);
        client.Activate();
        Assert.Equal(StatusCode.BadMessageNotAvailable, client.AskFault(request));
    }

    [Fact]
    public void Only_the_user_of_now_takes_the_subscription_over()
    {
        using ServerBench bench = Bench();
        BenchClient client = Engineer(bench);
        uint id = client.Subscribe().SubscriptionId;
        client.Activate(new UserNameIdentityToken { UserName = "operator", Password = "pellets-650"u8.ToArray() });
        BenchClient other = Engineer(bench);
        var request = new TransferSubscriptionsRequest { SubscriptionIds = [id] };
        Assert.Equal(StatusCode.BadUserAccessDenied, other.Ask<TransferSubscriptionsResponse>(request).Results![0].StatusCode);
        other.Activate(new UserNameIdentityToken { UserName = "operator", Password = "pellets-650"u8.ToArray() });
        Assert.Equal(StatusCode.Good, other.Ask<TransferSubscriptionsResponse>(request).Results![0].StatusCode);
    }

    [Fact]
    public void The_same_user_again_loses_nothing()
    {
        using ServerBench bench = Bench();
        BenchClient client = Engineer(bench);
        uint id = client.Subscribe().SubscriptionId;
        client.Monitor(id, Outlet);
        client.Publish(3);
        bench.Run(110);
        Assert.Single(Told(client));
        client.Activate(new UserNameIdentityToken { UserName = "engineer", Password = "pellets-650"u8.ToArray() });
        bench.Run(210);
        Assert.Empty(Told(client));
        Assert.Equal(1u, client.Ask<RepublishResponse>(new RepublishRequest { SubscriptionId = id, RetransmitSequenceNumber = 1 }).NotificationMessage.SequenceNumber);
    }

    private static ServerBench Bench() => new(ServerBench.Secured(new BenchUsers()));

    private static BenchClient Engineer(ServerBench bench)
    {
        BenchClient client = bench.Connect(SecurityPolicy.Basic256Sha256, MessageSecurityMode.SignAndEncrypt);
        client.CreateSession();
        client.Activate(new UserNameIdentityToken { UserName = "engineer", Password = "pellets-650"u8.ToArray() });
        return client;
    }

    private static List<MonitoredItemNotification> Told(BenchClient client)
    {
        var told = new List<MonitoredItemNotification>();
        while (client.NextData() is { Length: > 0 } data)
        {
            told.AddRange(data);
        }

        return told;
    }
}
