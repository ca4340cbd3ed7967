using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Services;
using static EdgeGuard.OpcUa.Tests.Server.DiagnosticsReader;

namespace EdgeGuard.OpcUa.Tests.Server;

/// <summary>
/// The object that each session has (OPC 10000-5, 6.3.5) below SessionsDiagnosticsSummary: it comes with the session and goes
/// with it, whichever way, and who may not read the arrays may not read it.
/// </summary>
public sealed class SessionDiagnosticsTests
{
    private static readonly NodeId Outlet = new(2, "N-1/outlet");

    [Fact]
    public void A_session_has_an_object_by_its_own_identifier_with_what_the_type_declares()
    {
        using var bench = new ServerBench(ServerBench.Secured(new BenchUsers()));
        BenchClient watched = bench.Activated();
        BenchClient engineer = Engineer(bench);
        ReferenceDescription found = Browse(engineer, Summary, NodeClass.Object).Single(reference => reference.NodeId.NodeId == watched.Session.SessionId);
        Assert.Equal((new NodeId(2029), NodeClass.Object), (found.TypeDefinition.NodeId, found.NodeClass));
        Assert.Equal(Names(engineer, new NodeId(2029)), Names(engineer, watched.Session.SessionId));
        foreach ((string name, uint type) in new[] { ("SessionDiagnostics", 2197u), ("SessionSecurityDiagnostics", 2244u), ("SubscriptionDiagnosticsArray", 2171u) })
        {
            ReferenceDescription part = Browse(engineer, watched.Session.SessionId).Single(reference => reference.BrowseName == new QualifiedName(name));
            Assert.Equal(new NodeId(type), part.TypeDefinition.NodeId);
            if (type != 2171)
            {
                Assert.Equal(Names(engineer, new NodeId(type)), Names(engineer, part.NodeId.NodeId));
            }
        }

        // The arrays expose the same variables (7.13, 7.15).
        Assert.Contains(Component(engineer, watched.Session.SessionId, "SessionDiagnostics"), Ids(engineer, AllSessions));
        Assert.Contains(Component(engineer, watched.Session.SessionId, "SessionSecurityDiagnostics"), Ids(engineer, AllSecurity));
    }

    [Fact]
    public void Its_variables_tell_what_the_array_tells_and_count_on()
    {
        using var bench = new ServerBench(ServerBench.Secured(new BenchUsers()));
        BenchClient engineer = Engineer(bench);
        BenchClient watched = bench.Activated(SecurityPolicy.Basic256Sha256, MessageSecurityMode.SignAndEncrypt);
        watched.Read(Outlet);
        watched.Read(Outlet);
        watched.AskFault(new ReadRequest { NodesToRead = [] });
        NodeId whole = Component(engineer, watched.Session.SessionId, "SessionDiagnostics");
        SessionDiagnosticsDataType told = Structure<SessionDiagnosticsDataType>(engineer, whole);
        Assert.Equal((watched.Session.SessionId, 3u, 1u), (told.SessionId, told.ReadCount.TotalCount, told.ReadCount.ErrorCount));
        Assert.Equal(Bytes(Array<SessionDiagnosticsDataType>(engineer, AllSessions).Single(entry => entry.SessionId == told.SessionId)), Bytes(told));
        NodeId reads = Component(engineer, whole, "ReadCount");
        watched.Read(Outlet);
        Assert.Equal(4u, Structure<ServiceCounterDataType>(engineer, reads).TotalCount);
        Assert.Equal("bench", Good(engineer, Component(engineer, whole, "SessionName")).AsString);
        Assert.Equal(60_000.0, Good(engineer, Component(engineer, whole, "ActualSessionTimeout")).AsDouble);

        NodeId security = Component(engineer, watched.Session.SessionId, "SessionSecurityDiagnostics");
        Assert.Equal(MessageSecurityMode.SignAndEncrypt, Structure<SessionSecurityDiagnosticsDataType>(engineer, security).SecurityMode);
        Assert.Equal((long)MessageSecurityMode.SignAndEncrypt, Good(engineer, Component(engineer, security, "SecurityMode")).AsInteger);
        watched.Activate(new UserNameIdentityToken { UserName = "operator", Password = "pellets-650"u8.ToArray() });
        Assert.Equal("operator", Good(engineer, Component(engineer, security, "ClientUserIdOfSession")).AsString);
        Assert.Equal(["anonymous", "operator"], (string?[])Good(engineer, Component(engineer, security, "ClientUserIdHistory")).Elements!);
    }

    [Fact]
    public void Every_attribute_of_every_node_is_good_and_every_value_fits_its_data_type()
    {
        using var bench = new ServerBench(ServerBench.Secured(new BenchUsers()));
        BenchClient watched = bench.Activated();
        watched.Subscribe();
        var admin = new CallerContext { Roles = CallerRoles.Any };
        Node[] made = [.. bench.Space.Snapshot().Where(static node => node.NodeId.NamespaceIndex == 1)];
        Assert.Equal(TransientNodes.OfSession + TransientNodes.OfSubscription, made.Length);
        foreach (Node node in made)
        {
            foreach (AttributeId attribute in Enum.GetValues<AttributeId>())
            {
                DataValue value = AttributeReader.Read(new ServiceContext(bench.Space, admin, bench.Now.Utc, new OperationLimits()), new ReadValueId { NodeId = node.NodeId, AttributeId = (uint)attribute });
                Assert.True(value.Status is StatusCode.Good or StatusCode.BadAttributeIdInvalid, $"{node} {attribute}: {value.Status}");
                Assert.True(attribute != AttributeId.Value || node is not VariableNode variable || DataTypes.Accepts(bench.Space, variable.DataType, variable.ValueRank, value.Value), $"{node} is {value.Value.Type}");
            }

            // Both ways, but for the types, which do not list what comes and goes.
            Assert.All(node.References.ToArray(), reference =>
                Assert.True(reference.Type.NodeId.IsStandard(StandardIds.HasTypeDefinition) || reference.Target.References.Contains(new Reference(reference.Type, !reference.IsForward, node)), $"{node} {reference}"));
        }
    }

    [Fact]
    public void The_object_of_another_client_appears_and_vanishes_with_its_session()
    {
        using var bench = new ServerBench(ServerBench.Secured(new BenchUsers()));
        BenchClient engineer = Engineer(bench);
        NodeId[] before = Ids(engineer, Summary);
        BenchClient other = bench.Connect();
        other.CreateSession();
        NodeId whole = Component(engineer, other.Session.SessionId, "SessionDiagnostics");
        NodeId reads = Component(engineer, whole, "ReadCount");
        Assert.Equal([.. before, other.Session.SessionId], Ids(engineer, Summary));
        uint subscription = engineer.Subscribe().SubscriptionId;
        Assert.Equal(StatusCode.Good, engineer.Monitor(subscription, reads).StatusCode);
        engineer.Publish(3);
        bench.Run(200);
        Assert.Equal(StatusCode.Good, engineer.NextData().Single().Value.Status);

        // It is told again when it changes only, although it is made anew for each sample.
        engineer.Publish(2);
        bench.Run(600);
        Assert.Empty(engineer.NextData());
        other.Activate();
        other.Read(Outlet);
        bench.Run(200);
        Assert.Equal(1u, Decoded<ServiceCounterDataType>(engineer.NextData().Single().Value.Value.AsExtensionObject!).TotalCount);
        other.Ask<CloseSessionResponse>(new CloseSessionRequest());
        Assert.Equal(before, Ids(engineer, Summary));
        Assert.All(new[] { whole, reads, other.Session.SessionId }, node => Assert.Equal(StatusCode.BadNodeIdUnknown, engineer.Read(node, node == other.Session.SessionId ? AttributeId.BrowseName : AttributeId.Value).Status));
        Assert.Equal(StatusCode.BadNodeIdUnknown, engineer.Ask<BrowseResponse>(new BrowseRequest { NodesToBrowse = [Components(whole)] }).Results![0].StatusCode);
        bench.Run(200);
        Assert.Equal(StatusCode.BadNodeIdUnknown, engineer.NextData().Single().Value.Status);
    }

    [Fact]
    public void It_goes_also_with_a_session_that_times_out_or_gives_way()
    {
        using var bench = new ServerBench(ServerBench.Secured(new BenchUsers()) with { Operations = ServerBench.Plain.Operations with { Sessions = 3 } });
        BenchClient engineer = Engineer(bench);
        BenchClient idle = bench.Connect();
        idle.CreateSession(timeoutMs: 10_000);
        idle.Activate();
        BenchClient never = bench.Connect();
        never.CreateSession();
        bench.Run(1_000);
        BenchClient next = bench.Activated();
        Assert.Equal([engineer.Session.SessionId, idle.Session.SessionId, next.Session.SessionId], Ids(engineer, Summary, NodeClass.Object));
        bench.Run(9_500);
        Assert.Equal([engineer.Session.SessionId, next.Session.SessionId], Ids(engineer, Summary, NodeClass.Object));
        Assert.Equal((2, 2), (Ids(engineer, AllSessions).Length, Ids(engineer, AllSecurity).Length));
    }

    [Fact]
    public void Who_may_not_read_the_arrays_may_browse_and_not_read()
    {
        using var bench = new ServerBench(ServerBench.Secured(new BenchUsers()));
        BenchClient worker = bench.Connect(SecurityPolicy.Basic256Sha256, MessageSecurityMode.SignAndEncrypt);
        worker.CreateSession();
        worker.Activate(new UserNameIdentityToken { UserName = "operator", Password = "pellets-650"u8.ToArray() });
        worker.Subscribe();
        VariableNode[] variables = [.. bench.Space.Snapshot().OfType<VariableNode>().Where(static node => node.NodeId.NamespaceIndex == 1)];
        foreach (BenchClient client in new[] { bench.Activated(), worker })
        {
            Assert.All(variables, variable => Assert.Equal(StatusCode.BadUserAccessDenied, client.Read(variable.NodeId).Status));
        }

        // An engineer of a site, who is no security administrator; the type in the text of the NodeId tells them apart.
        var engineer = new CallerContext { Roles = CallerRoles.Anonymous | CallerRoles.Operator | CallerRoles.Supervisor | CallerRoles.Engineer };
        Assert.All(variables, variable =>
            Assert.Equal(variable.NodeId.Text!.Contains("Security", StringComparison.Ordinal) ? StatusCode.BadUserAccessDenied : StatusCode.Good, AttributeReader.ReadValue(new ServiceContext(bench.Space, engineer, bench.Now.Utc, new OperationLimits()), variable).Status));
        Assert.Equal(10, variables.Count(static variable => variable.NodeId.Text!.Contains("Security", StringComparison.Ordinal)));

        // Nothing a client said of itself stands where everybody may browse.
        Assert.DoesNotContain(Browse(worker, Summary), static reference => reference.BrowseName.Name!.Contains("bench", StringComparison.Ordinal) || reference.DisplayName.Text!.Contains("bench", StringComparison.Ordinal));
    }

    [Fact]
    public void Parts_of_a_browse_join_to_what_was_there_when_it_began_while_sessions_come_and_go()
    {
        using var bench = new ServerBench(ServerBench.Secured(new BenchUsers()));
        BenchClient engineer = Engineer(bench);
        List<BenchClient> others = [.. Enumerable.Range(0, 6).Select(_ => bench.Activated())];
        NodeId[] whole = Ids(engineer, Summary);
        BrowseResult part = engineer.Ask<BrowseResponse>(new BrowseRequest { RequestedMaxReferencesPerNode = 2, NodesToBrowse = [Components(Summary)] }).Results![0];
        List<NodeId> joined = [];
        for (int round = 0; ; round++)
        {
            joined.AddRange(part.References!.Select(static reference => reference.NodeId.NodeId));
            if (part.ContinuationPoint is null)
            {
                break;
            }

            others[round].Ask<CloseSessionResponse>(new CloseSessionRequest());
            bench.Activated();
            part = engineer.Ask<BrowseNextResponse>(new BrowseNextRequest { ContinuationPoints = [part.ContinuationPoint] }).Results![0];
            Assert.Equal(StatusCode.Good, part.StatusCode);
        }

        Assert.Equal(whole, joined);
        Assert.Equal(9, whole.Length);
        NodeId[] now = Ids(engineer, Summary);
        Assert.Equal(9, now.Length);
        Assert.Equal(4, now.Except(whole).Count());
    }

    // The list a client polls is not looked up again because of others that come and go, or reading would be slower the
    // more of them there are.
    [Fact]
    public void A_list_that_is_kept_stays_valid_and_nodes_that_go_are_never_kept()
    {
        using var bench = new ServerBench(ServerBench.Secured(new BenchUsers()));
        BenchClient poller = bench.Activated();
        ReadRequest polled = new() { NodesToRead = [new ReadValueId { NodeId = Outlet, AttributeId = (uint)AttributeId.Value }] };
        for (int i = 0; i < 3; i++)
        {
            poller.Ask<ReadResponse>(polled);
        }

        int changes = bench.Space.Changes;
        BenchClient other = bench.Activated();
        other.Subscribe();
        other.Ask<CloseSessionResponse>(new CloseSessionRequest { DeleteSubscriptions = true });
        Assert.True(poller.Peer.Plan.IsSet);
        Assert.Equal(changes, bench.Space.Changes);

        BenchClient engineer = Engineer(bench);
        BenchClient watched = bench.Activated();
        NodeId name = Component(engineer, Component(engineer, watched.Session.SessionId, "SessionDiagnostics"), "SessionName");
        for (int i = 0; i < 4; i++)
        {
            Assert.Equal("bench", Good(engineer, name).AsString);
        }

        Assert.False(engineer.Peer.Plan.IsSet);
        watched.Ask<CloseSessionResponse>(new CloseSessionRequest());
        Assert.Equal(StatusCode.BadNodeIdUnknown, engineer.Read(name).Status);
    }

    // A node that somebody found just before it went, or that a continuation point still names, holds nothing any more.
    [Fact]
    public void A_node_that_went_tells_and_holds_nothing()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        client.Subscribe();
        Node[] gone = [.. bench.Space.Snapshot().Where(static node => node.NodeId.NamespaceIndex == 1)];
        client.Ask<CloseSessionResponse>(new CloseSessionRequest { DeleteSubscriptions = true });
        Assert.Equal(TransientNodes.OfSession + TransientNodes.OfSubscription, gone.Length);
        Assert.All(gone, node => Assert.Empty(node.References.ToArray()));
        Assert.All(gone.OfType<VariableNode>(), node =>
        {
            Assert.Null(node.Provider);
            Assert.Equal(StatusCode.BadNodeIdUnknown, AttributeReader.ReadValue(new ServiceContext(bench.Space, new CallerContext { Roles = CallerRoles.Any }, bench.Now.Utc, new OperationLimits()), node).Status);
        });
    }

    [Fact]
    public void Sessions_and_subscriptions_leave_no_node_and_no_reference_behind()
    {
        using var bench = new ServerBench();
        (int nodes, int references) = Size(bench);
        for (int round = 0; round < 5; round++)
        {
            BenchClient[] clients = [.. Enumerable.Range(0, 10).Select(_ => bench.Activated())];
            foreach (BenchClient client in clients)
            {
                client.Subscribe();
                client.Subscribe();
            }

            Assert.Equal(nodes + (10 * TransientNodes.OfSession) + (20 * TransientNodes.OfSubscription), bench.Space.Count);
            foreach (BenchClient client in clients)
            {
                client.Ask<CloseSessionResponse>(new CloseSessionRequest { DeleteSubscriptions = true });
                bench.Forget(client);
            }

            Assert.Equal((nodes, references), Size(bench));
        }
    }

    // With what else is allocated to make them; 100 sessions and 500 subscriptions are allowed.
    [Fact]
    public void The_nodes_of_a_session_and_of_a_subscription_cost_little_memory()
    {
        const int Many = 20;
        const int SessionBytesMax = 60_000;
        const int SubscriptionBytesMax = 30_000;
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        client.Subscribe();
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int i = 1; i < Many; i++)
        {
            client.Subscribe();
        }

        long subscription = (GC.GetAllocatedBytesForCurrentThread() - before) / (Many - 1);
        BenchClient[] more = [.. Enumerable.Range(0, Many).Select(_ => bench.Connect())];
        before = GC.GetAllocatedBytesForCurrentThread();
        foreach (BenchClient one in more)
        {
            one.CreateSession();
        }

        long session = (GC.GetAllocatedBytesForCurrentThread() - before) / Many;
        TestContext.Current.TestOutputHelper!.WriteLine($"{session} bytes a session, {subscription} a subscription");
        Assert.InRange(session, 1, SessionBytesMax);
        Assert.InRange(subscription, 1, SubscriptionBytesMax);
    }

    private static (int Nodes, int References) Size(ServerBench bench) => (bench.Space.Count, bench.Space.Snapshot().Sum(static node => node.References.Length));

    private static string[] Names(BenchClient client, NodeId node) => [.. Browse(client, node).Select(static reference => reference.BrowseName.ToString()).Order(StringComparer.Ordinal)];

    private static string Bytes(IUaStructure structure) => Convert.ToHexString(Wire.Bytes(structure.Write));
}
