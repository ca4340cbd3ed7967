using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.Server;
using EdgeGuard.OpcUa.Tests.Server;

namespace EdgeGuard.OpcUa.Tests.Subscriptions;

/// <summary>Publishing (OPC 10000-4, 5.13); points 8, 9 and 14 of what independent clients trip over.</summary>
public sealed class PublishingTests
{
    private static readonly NodeId Outlet = new(2, "N-1/outlet");
    private static readonly NodeId Flow = new(2, "N-1/flow");

    [Fact]
    public void Point_8_initial_values_come_in_the_first_cycle()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        uint id = client.Subscribe(intervalMs: 500).SubscriptionId;
        client.Monitor(id, Outlet, handle: 5);
        client.Publish(2);
        bench.Run(490);
        Assert.Empty(client.Published);
        bench.Run(20);
        var first = Assert.IsType<PublishResponse>(client.Published.Dequeue());
        Assert.Equal((1u, id, false), (first.NotificationMessage.SequenceNumber, first.SubscriptionId, first.MoreNotifications));
        MonitoredItemNotification value = Assert.Single(BenchClient.Data(first));
        Assert.Equal((5u, 20.0), (value.ClientHandle, value.Value.Value.AsDouble));
        Assert.Equal([1u], first.AvailableSequenceNumbers!);
        Assert.False(value.Value.SourceTimestamp.IsNull || value.Value.ServerTimestamp.IsNull);
    }

    [Fact]
    public void Point_8_the_first_keep_alive_comes_after_one_interval_and_none_uses_up_a_number()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        client.Subscribe(intervalMs: 100, keepAlives: 5);
        client.Publish(4);
        bench.Run(110);
        PublishResponse first = Take(client);
        Assert.Equal((1u, 0), (first.NotificationMessage.SequenceNumber, first.NotificationMessage.NotificationData?.Length ?? 0));
        bench.Run(480);
        Assert.Empty(client.Published);
        bench.Run(30);
        Assert.Equal(1u, Take(client).NotificationMessage.SequenceNumber);
        client.Monitor(1, Outlet);
        bench.Run(110);
        Assert.Equal(1u, Take(client).NotificationMessage.SequenceNumber);
        bench.Run(510);
        Assert.Equal(2u, Take(client).NotificationMessage.SequenceNumber);
    }

    // OPC 10000-4, NotificationMessage: the number after the largest is 1, since 0 is never used.
    [Fact]
    public void Point_8_after_the_largest_number_comes_one_and_both_can_be_had_again()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        uint id = client.Subscribe().SubscriptionId;
        client.Monitor(id, Outlet);
        Assert.Single(bench.Server.Subscriptions.All).ForceSequence(uint.MaxValue - 1);
        client.Publish(4);
        for (int i = 0; i < 3; i++)
        {
            bench.Set(bench.Outlet, 30 + i);
            bench.Run(110);
        }

        PublishResponse[] told = [.. client.Published.Cast<PublishResponse>()];
        Assert.Equal([uint.MaxValue, 1u, 2u], told.Select(static answer => answer.NotificationMessage.SequenceNumber));
        Assert.Equal([uint.MaxValue, 1u, 2u], told[^1].AvailableSequenceNumbers!);
        foreach (uint number in (uint[])[uint.MaxValue, 1])
        {
            Assert.Equal(number, client.Ask<RepublishResponse>(new RepublishRequest { SubscriptionId = id, RetransmitSequenceNumber = number }).NotificationMessage.SequenceNumber);
        }

        Assert.Equal(StatusCode.BadMessageNotAvailable, client.AskFault(new RepublishRequest { SubscriptionId = id, RetransmitSequenceNumber = 0 }));
    }

    [Fact]
    public void Point_8_acknowledgements_have_results_and_a_message_can_be_had_again_until_then()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        uint id = client.Subscribe().SubscriptionId;
        client.Monitor(id, Outlet);
        client.Publish();
        bench.Run(110);
        PublishResponse sent = Take(client);
        RepublishResponse again = client.Ask<RepublishResponse>(new RepublishRequest { SubscriptionId = id, RetransmitSequenceNumber = 1 });
        Assert.Equal(Wire.Written(sent.NotificationMessage.Write), Wire.Written(again.NotificationMessage.Write));
        client.Publish(1, 0, new() { SubscriptionId = id, SequenceNumber = 1 }, new() { SubscriptionId = id, SequenceNumber = 9 }, new() { SubscriptionId = 99, SequenceNumber = 1 });
        bench.Set(bench.Outlet, 21);
        bench.Run(210);
        Assert.Equal([StatusCode.Good, StatusCode.BadSequenceNumberUnknown, StatusCode.BadSubscriptionIdInvalid], Take(client).Results!);
        Assert.Equal(StatusCode.BadMessageNotAvailable, client.AskFault(new RepublishRequest { SubscriptionId = id, RetransmitSequenceNumber = 1 }));
        Assert.Equal(StatusCode.BadSubscriptionIdInvalid, client.AskFault(new RepublishRequest { SubscriptionId = 99, RetransmitSequenceNumber = 1 }));
    }

    [Fact]
    public void Point_8_without_a_subscription_publish_is_refused_and_waiting_requests_are_answered()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        Assert.Equal(StatusCode.BadNoSubscription, client.AskFault(new PublishRequest()));
        uint id = client.Subscribe().SubscriptionId;
        client.Published.Clear();
        client.Publish(2);
        Assert.Equal([StatusCode.Good, StatusCode.BadSubscriptionIdInvalid], client.Ask<DeleteSubscriptionsResponse>(new DeleteSubscriptionsRequest { SubscriptionIds = [id, 99] }).Results!);
        Assert.Equal([StatusCode.BadNoSubscription, StatusCode.BadNoSubscription], client.Published.Select(static p => p.ResponseHeader.ServiceResult));
    }

    [Fact]
    public void Point_8_too_many_publish_requests_push_the_oldest_out()
    {
        using var bench = new ServerBench(ServerBench.Plain with { Limits = new ServerLimits { PublishRequestsPerSessionMax = 3 } });
        BenchClient client = bench.Activated();
        client.Subscribe(intervalMs: 1000);
        client.Publish(5);
        Assert.Equal([StatusCode.BadTooManyPublishRequests, StatusCode.BadTooManyPublishRequests], client.Published.Select(static p => p.ResponseHeader.ServiceResult));
    }

    [Fact]
    public void Point_8_a_subscription_whose_client_never_publishes_ends_and_says_so()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        CreateSubscriptionResponse made = client.Subscribe(intervalMs: 100, keepAlives: 3, lifetime: 1);
        Assert.Equal(9u, made.RevisedLifetimeCount);
        bench.Run(950);
        Assert.Equal(0, bench.Server.SubscriptionCount);
        client.Publish();
        PublishResponse end = Take(client);
        Assert.Equal((made.SubscriptionId, (StatusCode?)StatusCode.BadTimeout), (end.SubscriptionId, BenchClient.StatusChange(end)));
    }

    [Fact]
    public void Point_8_the_time_out_hint_of_publish_is_honoured()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        client.Subscribe(intervalMs: 1000, keepAlives: 100);
        client.Publish(1, timeoutHintMs: 300);
        bench.Run(310);
        Assert.Equal(StatusCode.BadTimeout, client.Published.Dequeue().ResponseHeader.ServiceResult);
    }

    [Theory]
    [InlineData(0, 50)]
    [InlineData(double.NaN, 50)]
    [InlineData(-1, 50)]
    [InlineData(double.PositiveInfinity, 3_600_000)]
    [InlineData(250, 250)]
    public void Point_8_intervals_are_revised(double asked, double revised)
    {
        using var bench = new ServerBench();
        Assert.Equal(revised, bench.Activated().Subscribe(intervalMs: asked).RevisedPublishingInterval);
    }

    [Theory]
    [InlineData(-1, 700)]
    [InlineData(0, 100)]
    [InlineData(double.NaN, 100)]
    [InlineData(30, 100)]
    [InlineData(400, 400)]
    public void Point_8_sampling_is_revised(double asked, double revised)
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        uint id = client.Subscribe(intervalMs: 700).SubscriptionId;
        Assert.Equal(revised, client.Monitor(id, Outlet, samplingMs: asked).RevisedSamplingInterval);
    }

    [Fact]
    public void A_late_subscription_is_served_by_the_next_request_and_the_higher_priority_first()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        uint low = client.Subscribe(priority: 1).SubscriptionId;
        uint high = client.Subscribe(priority: 9).SubscriptionId;
        client.Monitor(low, Outlet);
        client.Monitor(high, Outlet);
        bench.Run(300);
        client.Publish();
        Assert.Equal(high, Take(client).SubscriptionId);
        client.Publish();
        Assert.Equal(low, Take(client).SubscriptionId);
    }

    [Fact]
    public void A_bound_on_notifications_splits_the_message_and_says_that_more_comes()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        uint id = client.Subscribe(notificationsMax: 2).SubscriptionId;
        for (uint i = 0; i < 5; i++)
        {
            client.Monitor(id, Outlet, handle: i);
        }

        client.Publish(3);
        bench.Run(110);
        PublishResponse[] sent = [Take(client), Take(client), Take(client)];
        Assert.Equal([true, true, false], sent.Select(static p => p.MoreNotifications));
        Assert.Equal([0u, 1, 2, 3, 4], sent.SelectMany(BenchClient.Data).Select(static n => n.ClientHandle));
    }

    [Fact]
    public void Messages_keep_to_the_size_the_client_takes()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Connect();
        client.CreateSession(responseBytesMax: 8192);
        client.Activate();
        uint id = client.Subscribe().SubscriptionId;
        bench.Trend.Set(Variant.FromArray(BuiltInType.Double, new double[500]), bench.Now.Utc);
        for (uint i = 0; i < 5; i++)
        {
            client.Monitor(id, bench.Trend.NodeId, handle: i);
        }

        client.Publish(5);
        bench.Run(110);
        Assert.Equal(5, client.Published.OfType<PublishResponse>().SelectMany(BenchClient.Data).Count(static n => n.Value.Status == StatusCode.Good));
        bench.Trend.Set(Variant.FromArray(BuiltInType.Double, new double[2000]), bench.Now.Utc);
        client.Published.Clear();
        client.Publish(5);
        bench.Run(210);
        Assert.Equal(5, client.Published.OfType<PublishResponse>().SelectMany(BenchClient.Data).Count(static n => n.Value.Status == StatusCode.BadEncodingLimitsExceeded));
    }

    [Fact]
    public void Publishing_can_be_switched_off_and_keep_alives_go_on()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        uint id = client.Subscribe(keepAlives: 2, enabled: false).SubscriptionId;
        client.Monitor(id, Outlet);
        client.Publish(10);
        bench.Run(600);
        Assert.NotEmpty(client.Published);
        Assert.Empty(client.NextData());
        Assert.Equal([StatusCode.Good], client.Ask<SetPublishingModeResponse>(new SetPublishingModeRequest { SubscriptionIds = [id], PublishingEnabled = true }).Results!);
        bench.Run(110);
        Assert.Single(client.NextData());
    }

    [Fact]
    public void Point_9_subscriptions_outlive_socket_and_session_and_go_over_with_initial_values()
    {
        using var bench = new ServerBench(ServerBench.Secured());
        BenchClient first = bench.Activated(Signed, MessageSecurityMode.Sign);
        uint id = first.Subscribe(lifetime: 1000).SubscriptionId;
        first.Monitor(id, Outlet, handle: 8);
        first.Publish();
        bench.Run(110);
        Assert.Single(first.NextData());
        first.Drop();
        BenchClient second = bench.Activated(Signed, MessageSecurityMode.Sign);
        TransferSubscriptionsResponse moved = second.Ask<TransferSubscriptionsResponse>(new TransferSubscriptionsRequest { SubscriptionIds = [id, 99], SendInitialValues = true });
        Assert.Equal([StatusCode.Good, StatusCode.BadSubscriptionIdInvalid], moved.Results!.Select(static r => r.StatusCode));
        Assert.Equal([1u], moved.Results![0].AvailableSequenceNumbers!);
        second.Publish();
        bench.Run(110);
        Assert.Equal(8u, Assert.Single(second.NextData()).ClientHandle);
    }

    [Fact]
    public void Point_9_the_old_owner_is_told_and_another_application_gets_nothing()
    {
        using var bench = new ServerBench(ServerBench.Secured());
        BenchClient first = bench.Activated(Signed, MessageSecurityMode.Sign);
        uint id = first.Subscribe(intervalMs: 1000).SubscriptionId;
        first.Publish();
        var stranger = new BenchClient(bench, OpcUa.SecureChannel.SecurityPolicy.None, MessageSecurityMode.None) { ApplicationUri = "urn:someone:else" };
        stranger.Pump();
        stranger.CreateSession();
        stranger.Activate();
        Assert.Equal(StatusCode.BadUserAccessDenied, stranger.Ask<TransferSubscriptionsResponse>(new TransferSubscriptionsRequest { SubscriptionIds = [id] }).Results![0].StatusCode);
        BenchClient second = bench.Activated(Signed, MessageSecurityMode.Sign);
        Assert.Equal(StatusCode.Good, second.Ask<TransferSubscriptionsResponse>(new TransferSubscriptionsRequest { SubscriptionIds = [id] }).Results![0].StatusCode);
        first.Pump();
        PublishResponse told = Take(first);
        Assert.Equal((id, (StatusCode?)StatusCode.GoodSubscriptionTransferred), (told.SubscriptionId, BenchClient.StatusChange(told)));
    }

    [Fact]
    public void Point_9_subscriptions_of_a_session_that_timed_out_can_still_be_taken_over()
    {
        using var bench = new ServerBench(ServerBench.Secured());
        BenchClient first = bench.Connect(Signed, MessageSecurityMode.Sign);
        first.CreateSession(timeoutMs: 10_000);
        first.Activate();
        uint id = first.Subscribe(intervalMs: 1000, lifetime: 600).SubscriptionId;
        first.Monitor(id, Flow);
        bench.Run(11_000);
        Assert.Equal((0, 1), (bench.Server.SessionCount, bench.Server.SubscriptionCount));
        BenchClient second = bench.Activated(Signed, MessageSecurityMode.Sign);
        Assert.Equal(StatusCode.Good, second.Ask<TransferSubscriptionsResponse>(new TransferSubscriptionsRequest { SubscriptionIds = [id], SendInitialValues = true }).Results![0].StatusCode);
        second.Publish();
        bench.Run(1_100);
        Assert.Single(second.NextData());
    }

    [Fact]
    public void Point_9_without_a_name_and_a_signed_channel_nobody_takes_a_subscription_over()
    {
        using var bench = new ServerBench(ServerBench.Secured());
        BenchClient open = bench.Activated();
        uint fromOpen = open.Subscribe(intervalMs: 1000).SubscriptionId;
        BenchClient signed = bench.Activated(Signed, MessageSecurityMode.Sign);
        uint fromSigned = signed.Subscribe(intervalMs: 1000).SubscriptionId;
        Assert.Equal(StatusCode.BadUserAccessDenied, Transferred(bench.Activated(), fromOpen));
        Assert.Equal(StatusCode.BadUserAccessDenied, Transferred(bench.Activated(), fromSigned));
        Assert.Equal(StatusCode.BadUserAccessDenied, Transferred(bench.Activated(Signed, MessageSecurityMode.Sign), fromOpen));
        Assert.Equal(StatusCode.BadNothingToDo, Transferred(signed, fromSigned));
        Assert.Equal(StatusCode.Good, Transferred(bench.Activated(Signed, MessageSecurityMode.Sign), fromSigned));
    }

    [Fact]
    public void Point_9_the_same_user_takes_a_subscription_over_from_any_application_and_another_user_does_not()
    {
        using var bench = new ServerBench(ServerBench.Secured(new BenchUsers()));
        uint id = Named(bench, "operator", "urn:pilot-hall:first").Subscribe(intervalMs: 1000).SubscriptionId;
        Assert.Equal(StatusCode.BadUserAccessDenied, Transferred(Named(bench, "other", "urn:pilot-hall:first"), id));
        Assert.Equal(StatusCode.BadUserAccessDenied, Transferred(bench.Activated(Signed, MessageSecurityMode.Sign), id));
        Assert.Equal(StatusCode.Good, Transferred(Named(bench, "operator", "urn:pilot-hall:second"), id));
    }

    [Theory]
    [InlineData(3_600_000)]
    [InlineData(-3_600_000)]
    public void Point_14_a_step_of_the_clock_changes_no_publishing(long stepMs)
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        uint id = client.Subscribe(intervalMs: 100, keepAlives: 10).SubscriptionId;
        client.Monitor(id, Outlet, queue: 10);
        client.Publish(15);
        bench.Run(110);
        Assert.Single(client.NextData());
        bench.ClockStepMs = stepMs;
        for (int i = 0; i < 5; i++)
        {
            bench.Set(bench.Outlet, 30 + i);
            bench.Run(100);
        }

        MonitoredItemNotification[] all = [.. client.Published.OfType<PublishResponse>().SelectMany(BenchClient.Data)];
        Assert.Equal([30.0, 31, 32, 33, 34], all.Select(static n => n.Value.Value.AsDouble));
        Assert.All(all, static n => Assert.True(n.Value.SourceTimestamp <= n.Value.ServerTimestamp));
        client.Published.Clear();
        bench.Run(1_010);
        Assert.Single(client.Published);
    }

    [Fact]
    public void Cancel_gives_up_waiting_requests()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        client.Subscribe(intervalMs: 1000);
        client.Publish();
        uint handle = 4; // create, activate, subscribe and publish were the first four requests
        Assert.Equal(1u, client.Ask<CancelResponse>(new CancelRequest { RequestHandle = handle }).CancelCount);
        Assert.Equal(StatusCode.BadRequestCancelledByClient, client.Published.Dequeue().ResponseHeader.ServiceResult);
    }

    [Fact]
    public void The_number_of_subscriptions_is_bounded()
    {
        using var bench = new ServerBench(ServerBench.Plain with { Operations = new OperationLimits { SubscriptionsPerSession = 2 } });
        BenchClient client = bench.Activated();
        client.Subscribe();
        client.Subscribe();
        Assert.Equal(StatusCode.BadTooManySubscriptions, client.AskFault(new CreateSubscriptionRequest()));
    }

    private static PublishResponse Take(BenchClient client) => Assert.IsType<PublishResponse>(client.Published.Dequeue());

    private static OpcUa.SecureChannel.SecurityPolicy Signed => OpcUa.SecureChannel.SecurityPolicy.Basic256Sha256;

    private static StatusCode Transferred(BenchClient client, uint id) =>
        client.Ask<TransferSubscriptionsResponse>(new TransferSubscriptionsRequest { SubscriptionIds = [id] }).Results![0].StatusCode;

    // Without security on the channel: the password is encrypted all the same, and any application URI can be stated.
    private static BenchClient Named(ServerBench bench, string user, string applicationUri)
    {
        var client = new BenchClient(bench, OpcUa.SecureChannel.SecurityPolicy.None, MessageSecurityMode.None) { ApplicationUri = applicationUri };
        client.Pump();
        client.CreateSession();
        client.Activate(Sessions.UserTests.Token(client, user, BenchUsers.Password, Signed));
        return client;
    }
}
