using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.Server;

namespace EdgeGuard.OpcUa.Tests.Server;

/// <summary>
/// Any services in any order with any figures, from several clients, with time and broken sockets between them: every
/// request is answered, nothing throws, the quotas hold, and an honest client is served at the end. A failing seed is
/// named; it is enough to run it again.
/// </summary>
public sealed class OperationFuzzTests
{
    private const int Lives = 40;
    private const int Steps = 150;
    private static readonly double[] Figures = [double.NaN, double.NegativeInfinity, -1, 0, 0.1, 50, 100, 250, 1e300];

    [Fact]
    public void Any_services_in_any_order_are_answered_and_bounded()
    {
        for (int seed = 1; seed <= Lives; seed++)
        {
            try
            {
                Live(seed);
            }
            catch (Exception e)
            {
                throw new InvalidOperationException($"seed {seed}: {e.Message}", e);
            }
        }
    }

    private static void Live(int seed)
    {
        var random = new Random(seed);
        var limits = new ServerLimits { ItemsPerSessionMax = 20, QueuedValuesPerSessionMax = 100, PublishRequestsPerSessionMax = 4, RetransmissionsMax = 3 };
        using var bench = new ServerBench(ServerBench.Plain with { Limits = limits });
        int nodes = bench.Space.Count;
        List<BenchClient> clients = [bench.Activated(), bench.Activated(), bench.Connect()];
        for (int step = 0; step < Steps; step++)
        {
            int at = random.Next(clients.Count);
            if (clients[at].Peer.IsClosed || random.Next(40) == 0)
            {
                clients[at].Drop();
                clients[at] = random.Next(2) == 0 ? bench.Activated() : bench.Connect();
            }

            Step(random, bench, clients[at], clients[random.Next(clients.Count)]);
            TransientNodes.Check(bench, nodes);
        }

        BenchClient honest = bench.Activated();
        Assert.Equal(StatusCode.Good, honest.Read(new NodeId(2, "N-1/state")).Status);
        uint id = honest.Subscribe().SubscriptionId;
        honest.Monitor(id, new NodeId(2, "N-1/state"));
        honest.Publish();
        bench.Run(200);
        Assert.Single(honest.NextData());
    }

    internal static void Step(Random random, ServerBench bench, BenchClient client, BenchClient other)
    {
        switch (random.Next(6))
        {
            case 0:
                bench.Run(random.Next(1, 3_000));
                break;
            case 1:
                bench.Set(bench.Outlet, random.NextDouble() * 100);
                bench.Server.Updated(bench.Now);
                break;
            case 2:
                client.Publish(random.Next(1, 7), (uint)random.Next(3) * 200, new SubscriptionAcknowledgement { SubscriptionId = Id(random), SequenceNumber = Id(random) });
                break;
            case 3 when random.Next(8) == 0:
                client.Token = other.Token;
                break;
            case 4 when random.Next(4) == 0:
                Assert.True(TransientNodes.Read(bench, TransientNodes.Any(random, Id(random))).Status is StatusCode.Good or StatusCode.BadNodeIdUnknown or StatusCode.BadAttributeIdInvalid);
                break;
            default:
                client.Ask(Request(random));
                break;
        }
    }

    private static IServiceRequest Request(Random random) => random.Next(18) switch
    {
        0 => new CreateSubscriptionRequest { RequestedPublishingInterval = Figure(random), RequestedLifetimeCount = Id(random), RequestedMaxKeepAliveCount = Id(random), MaxNotificationsPerPublish = Id(random), PublishingEnabled = random.Next(3) > 0, Priority = (byte)random.Next(3) },
        1 => new ModifySubscriptionRequest { SubscriptionId = Id(random), RequestedPublishingInterval = Figure(random), RequestedLifetimeCount = Id(random), RequestedMaxKeepAliveCount = Id(random) },
        2 => new SetPublishingModeRequest { SubscriptionIds = [Id(random), Id(random)], PublishingEnabled = random.Next(2) == 0 },
        3 => new RepublishRequest { SubscriptionId = Id(random), RetransmitSequenceNumber = Id(random) },
        4 => new TransferSubscriptionsRequest { SubscriptionIds = [Id(random)], SendInitialValues = random.Next(2) == 0 },
        5 => new DeleteSubscriptionsRequest { SubscriptionIds = random.Next(3) == 0 ? [Id(random)] : null },
        6 or 7 or 8 => new CreateMonitoredItemsRequest { SubscriptionId = Id(random), TimestampsToReturn = (TimestampsToReturn)random.Next(5), ItemsToCreate = [Item(random), Item(random), Item(random)] },
        9 => new ModifyMonitoredItemsRequest { SubscriptionId = Id(random), ItemsToModify = [new() { MonitoredItemId = Id(random), RequestedParameters = Parameters(random) }] },
        10 => new SetMonitoringModeRequest { SubscriptionId = Id(random), MonitoringMode = (MonitoringMode)random.Next(4), MonitoredItemIds = [Id(random), Id(random)] },
        11 => new SetTriggeringRequest { SubscriptionId = Id(random), TriggeringItemId = Id(random), LinksToAdd = [Id(random), Id(random)], LinksToRemove = random.Next(2) == 0 ? null : [Id(random)] },
        12 => new DeleteMonitoredItemsRequest { SubscriptionId = Id(random), MonitoredItemIds = [Id(random)] },
        13 => new CancelRequest { RequestHandle = (uint)random.Next(200) },
        16 => new ReadRequest { MaxAge = random.Next(9) == 0 ? -1 : 0, TimestampsToReturn = (TimestampsToReturn)random.Next(5), NodesToRead = random.Next(4) switch { 0 => [Value("N-1/outlet"), Value("N-1/state")], 1 => [Value("N-1/outlet")], 2 => [new() { NodeId = TransientNodes.Any(random, Id(random)), AttributeId = (uint)AttributeId.Value }], _ => [Value("N-1/trend"), Value("nowhere")] } },
        17 => new BrowseRequest { RequestedMaxReferencesPerNode = Id(random), NodesToBrowse = [DiagnosticsReader.Components(TransientNodes.Any(random, Id(random))), DiagnosticsReader.Components(TransientNodes.Any(random, Id(random)))] },
        14 => random.Next(4) == 0 ? new CloseSessionRequest { DeleteSubscriptions = random.Next(2) == 0 } : new BrowseNextRequest { ContinuationPoints = [[1, 2, 3]] },
        _ => new CallRequest { MethodsToCall = [new() { ObjectId = new NodeId(2253), MethodId = new NodeId(random.Next(2) == 0 ? 11492u : 12873u), InputArguments = [new Variant(Id(random))] }] },
    };

    private static MonitoredItemCreateRequest Item(Random random) => new()
    {
        ItemToMonitor = new ReadValueId { NodeId = random.Next(5) switch { 4 => TransientNodes.Any(random, Id(random)), 0 => new NodeId(2, "N-1/outlet"), 1 => new NodeId(2, "N-1/state"), 2 => new NodeId(2258), _ => new NodeId(2, "nowhere") }, AttributeId = random.Next(5) == 0 ? (uint)random.Next(30) : 13, IndexRange = random.Next(6) == 0 ? "1:2" : null },
        MonitoringMode = (MonitoringMode)random.Next(4),
        RequestedParameters = Parameters(random),
    };

    private static MonitoringParameters Parameters(Random random) => new()
    {
        ClientHandle = Id(random),
        SamplingInterval = Figure(random),
        QueueSize = Id(random),
        DiscardOldest = random.Next(2) == 0,
        Filter = random.Next(3) > 0 ? null : new ExtensionObject(new DataChangeFilter { Trigger = (DataChangeTrigger)random.Next(4), DeadbandType = (uint)random.Next(4), DeadbandValue = Figure(random) }),
    };

    private static ReadValueId Value(string name) => new() { NodeId = new NodeId(2, name), AttributeId = (uint)AttributeId.Value };

    private static double Figure(Random random) => Figures[random.Next(Figures.Length)];

    private static uint Id(Random random) => random.Next(12) == 0 ? uint.MaxValue : (uint)random.Next(6);
}
