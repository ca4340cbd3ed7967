using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Tests.SecureChannel;
using static EdgeGuard.OpcUa.Tests.Server.DiagnosticsReader;

namespace EdgeGuard.OpcUa.Tests.Server;

/// <summary>
/// Diagnostics of server, sessions and subscriptions (OPC 10000-5, 12.9, 12.11, 12.12, 12.15), read by clients at the nodes
/// of the nodeset: 2275 summary, 2290 subscriptions, 3707 sessions, 3708 their security, 2294 EnabledFlag.
/// </summary>
public sealed class DiagnosticsTests
{
    private static readonly NodeId Counts = new(2275);
    private static readonly NodeId Outlet = new(2, "N-1/outlet");

    [Fact]
    public void The_summary_counts_sessions_subscriptions_and_what_was_refused()
    {
        using var bench = new ServerBench(ServerBench.Secured(new BenchUsers()) with { AllowNoneSessions = false });
        BenchClient client = Engineer(bench);
        Assert.True(client.Read(new NodeId(2294)).Value.AsBoolean);
        client.Subscribe(intervalMs: 100);
        client.Subscribe(intervalMs: 100);
        uint third = client.Subscribe(intervalMs: 500).SubscriptionId;
        client.Ask<DeleteSubscriptionsResponse>(new DeleteSubscriptionsRequest { SubscriptionIds = [third] });
        BenchClient open = bench.Connect();
        Assert.Equal(StatusCode.BadSecurityModeInsufficient, open.AskFault(open.SessionRequest()));
        BenchClient wrong = bench.Connect(SecurityPolicy.Basic256Sha256, MessageSecurityMode.SignAndEncrypt);
        wrong.CreateSession();
        Assert.Equal(StatusCode.BadUserAccessDenied, wrong.TryActivate(new UserNameIdentityToken { UserName = "operator", Password = "guessed"u8.ToArray() }).ResponseHeader.ServiceResult);
        Assert.Equal(StatusCode.BadNothingToDo, client.AskFault(new BrowseRequest { NodesToBrowse = [] }));

        ServerDiagnosticsSummaryDataType summary = Structure<ServerDiagnosticsSummaryDataType>(client, Counts);
        Assert.Equal((2u, 2u, 2u, 2u), (summary.CurrentSessionCount, summary.CumulatedSessionCount, summary.RejectedSessionCount, summary.SecurityRejectedSessionCount));
        Assert.Equal((2u, 3u, 1u), (summary.CurrentSubscriptionCount, summary.CumulatedSubscriptionCount, summary.PublishingIntervalCount));
        Assert.Equal((3u, 2u), (summary.RejectedRequestsCount, summary.SecurityRejectedRequestsCount));
        Assert.Equal((0u, 0u), (summary.SessionTimeoutCount, summary.SessionAbortCount));
        bench.Run(35_000);
        summary = Structure<ServerDiagnosticsSummaryDataType>(client, Counts);
        Assert.Equal((1u, 1u), (summary.CurrentSessionCount, summary.SessionTimeoutCount));
    }

    [Fact]
    public void A_session_tells_who_it_is_and_counts_its_requests_by_service()
    {
        using var bench = new ServerBench(ServerBench.Secured(new BenchUsers()));
        BenchClient watched = bench.Activated();
        uint subscription = watched.Subscribe().SubscriptionId;
        watched.Monitor(subscription, Outlet);
        watched.Publish(5); // one for the first value, two for keep-alives within the time that passes below
        watched.Read(Outlet);
        watched.Read(Outlet);
        watched.AskFault(new ReadRequest { NodesToRead = [] });
        Assert.Equal(StatusCode.BadUserAccessDenied, watched.Ask<CallResponse>(new CallRequest { MethodsToCall = [new CallMethodRequest { ObjectId = new NodeId(2, "N-1"), MethodId = new NodeId(2, "N-1/stop"), InputArguments = [new Variant("x")] }] }).Results![0].StatusCode);
        bench.Run(2_000);
        watched.AskFault(new DeleteSubscriptionsRequest { SubscriptionIds = [] });
        bench.Run(500);

        SessionDiagnosticsDataType entry = Array<SessionDiagnosticsDataType>(Engineer(bench), AllSessions)[0];
        Assert.Equal((watched.Session.SessionId, "bench", watched.ApplicationUri, "opc.tcp://alias:14840"), (entry.SessionId, entry.SessionName, entry.ClientDescription.ApplicationUri, entry.EndpointUrl));
        Assert.Equal((60_000.0, 2_000 * 10_000L), (entry.ActualSessionTimeout, entry.ClientLastContactTime.Ticks - entry.ClientConnectionTime.Ticks));
        Assert.Equal((1u, 1u, 2u), (entry.CurrentSubscriptionsCount, entry.CurrentMonitoredItemsCount, entry.CurrentPublishRequestsInQueue));
        Assert.Equal((3u, 1u), (entry.ReadCount.TotalCount, entry.ReadCount.ErrorCount));
        Assert.Equal((5u, 0u), (entry.PublishCount.TotalCount, entry.PublishCount.ErrorCount));
        Assert.Equal((1u, 1u, 1u), (entry.CreateSubscriptionCount.TotalCount, entry.CreateMonitoredItemsCount.TotalCount, entry.CallCount.TotalCount));
        Assert.Equal((1u, 1u), (entry.DeleteSubscriptionsCount.TotalCount, entry.DeleteSubscriptionsCount.ErrorCount));
        Assert.Equal((12u, 2u), (entry.TotalRequestCount.TotalCount, entry.TotalRequestCount.ErrorCount));
        Assert.Equal((0u, 0u), (entry.BrowseCount.TotalCount, entry.WriteCount.TotalCount));
    }

    [Fact]
    public void A_subscription_tells_its_settings_and_what_it_has_been_through()
    {
        using var bench = new ServerBench(ServerBench.Secured(new BenchUsers()));
        BenchClient watched = bench.Activated(SecurityPolicy.Basic256Sha256, MessageSecurityMode.Sign);
        uint id = watched.Subscribe(intervalMs: 100, keepAlives: 5, lifetime: 50, notificationsMax: 7, priority: 3).SubscriptionId;
        watched.Monitor(id, Outlet, queue: 2);
        watched.Monitor(id, new NodeId(2, "N-1/flow"), mode: MonitoringMode.Disabled);
        for (int i = 0; i < 4; i++)
        {
            bench.Set(bench.Outlet, 30 + i);
            bench.Run(100);
        }

        watched.Publish(2); // one for the data that waited, one for a keep-alive
        bench.Run(700);
        watched.Ask<ModifySubscriptionResponse>(new ModifySubscriptionRequest { SubscriptionId = id, RequestedPublishingInterval = 200, RequestedLifetimeCount = 60, RequestedMaxKeepAliveCount = 6, MaxNotificationsPerPublish = 8, Priority = 4 });
        watched.Ask<SetPublishingModeResponse>(new SetPublishingModeRequest { SubscriptionIds = [id], PublishingEnabled = false });
        watched.Ask<SetPublishingModeResponse>(new SetPublishingModeRequest { SubscriptionIds = [id], PublishingEnabled = true });
        watched.Ask<RepublishResponse>(new RepublishRequest { SubscriptionId = id, RetransmitSequenceNumber = 1 });
        watched.AskFault(new RepublishRequest { SubscriptionId = id, RetransmitSequenceNumber = 99 });
        BenchClient second = bench.Activated(SecurityPolicy.Basic256Sha256, MessageSecurityMode.Sign);
        second.Ask<TransferSubscriptionsResponse>(new TransferSubscriptionsRequest { SubscriptionIds = [id] });

        SubscriptionDiagnosticsDataType entry = Assert.Single(Array<SubscriptionDiagnosticsDataType>(Engineer(bench), AllSubscriptions));
        Assert.Equal((second.Session.SessionId, id, (byte)4, 200.0, 6u, 60u, 8u, true), (entry.SessionId, entry.SubscriptionId, entry.Priority, entry.PublishingInterval, entry.MaxKeepAliveCount, entry.MaxLifetimeCount, entry.MaxNotificationsPerPublish, entry.PublishingEnabled));
        Assert.Equal((1u, 1u, 1u), (entry.ModifyCount, entry.EnableCount, entry.DisableCount));
        Assert.Equal((2u, 2u, 1u), (entry.RepublishRequestCount, entry.RepublishMessageRequestCount, entry.RepublishMessageCount));
        Assert.Equal((1u, 1u, 0u), (entry.TransferRequestCount, entry.TransferredToSameClientCount, entry.TransferredToAltClientCount));
        Assert.Equal((2u, 2u, 2u), (entry.PublishRequestCount, entry.DataChangeNotificationsCount, entry.NotificationsCount));
        Assert.Equal((1u, 1u, 2u), (entry.CurrentKeepAliveCount, entry.UnacknowledgedMessageCount, entry.NextSequenceNumber));
        Assert.Equal((2u, 1u, 3u, 0u), (entry.MonitoredItemCount, entry.DisabledMonitoredItemCount, entry.MonitoringQueueOverflowCount, entry.DiscardedMessageCount));
        Assert.Equal(1u, entry.LatePublishRequestCount);
    }

    [Fact]
    public void Security_of_sessions_names_users_policy_and_certificate()
    {
        using var bench = new ServerBench(ServerBench.Secured(new BenchUsers()));
        BenchClient client = Engineer(bench);
        client.Activate(new UserNameIdentityToken { UserName = "operator", Password = "pellets-650"u8.ToArray() });
        client.Activate(new UserNameIdentityToken { UserName = "engineer", Password = "pellets-650"u8.ToArray() });
        SessionSecurityDiagnosticsDataType entry = Assert.Single(Array<SessionSecurityDiagnosticsDataType>(client, AllSecurity));
        Assert.Equal((client.Session.SessionId, "engineer", "UserName", MessageSecurityMode.SignAndEncrypt), (entry.SessionId, entry.ClientUserIdOfSession, entry.AuthenticationMechanism, entry.SecurityMode));
        Assert.Equal(["engineer", "operator", "engineer"], entry.ClientUserIdHistory!);
        Assert.Equal("http://opcfoundation.org/UA/SecurityPolicy#Basic256Sha256", entry.SecurityPolicyUri);
        Assert.Equal(TestParties.Client.Der.ToArray(), entry.ClientCertificate);
    }

    [Fact]
    public void Operators_and_strangers_see_the_summary_and_nothing_of_other_clients()
    {
        using var bench = new ServerBench(ServerBench.Secured(new BenchUsers()));
        BenchClient worker = bench.Connect(SecurityPolicy.Basic256Sha256, MessageSecurityMode.SignAndEncrypt);
        worker.CreateSession();
        worker.Activate(new UserNameIdentityToken { UserName = "operator", Password = "pellets-650"u8.ToArray() });
        foreach (BenchClient client in new[] { bench.Activated(), worker })
        {
            Assert.Equal(StatusCode.Good, client.Read(Counts).Status);
            Assert.All(new[] { AllSubscriptions, AllSessions, AllSecurity }, node => Assert.Equal(StatusCode.BadUserAccessDenied, client.Read(node).Status));
        }
    }

    [Fact]
    public void What_a_client_says_of_itself_is_kept_to_a_bound()
    {
        using var bench = new ServerBench(ServerBench.Secured(new BenchUsers()));
        BenchClient loud = bench.Connect();
        CreateSessionRequest request = loud.SessionRequest();
        request.EndpointUrl = "opc.tcp://" + new string('x', 60_000);
        request.ServerUri = new string('s', 60_000);
        request.ClientDescription.ProductUri = new string('p', 60_000);
        request.ClientDescription.DiscoveryUrls = [new string('d', 60_000)];
        loud.Ask<CreateSessionResponse>(request);
        SessionDiagnosticsDataType entry = Array<SessionDiagnosticsDataType>(Engineer(bench), AllSessions)[0];
        Assert.Equal((256, 256, 256, 0), (entry.EndpointUrl!.Length, entry.ServerUri!.Length, entry.ClientDescription.ProductUri!.Length, entry.ClientDescription.DiscoveryUrls?.Length ?? 0));
    }
}
