using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.Tests.Server;

/// <summary>
/// What the server allocates for one request of each service a client calls again and again, from its bytes to the bytes of
/// the answer. The bounds are about twice what was measured, so that nothing grows unnoticed.
/// </summary>
public sealed class ServiceAllocationTests
{
    private const int WarmUps = 200;
    private const int Requests = 500;

    public static TheoryData<string, long> Services => new()
    {
        { "Read", 300 },
        { "Browse", 12_000 },
        { "TranslateBrowsePaths", 2_000 },
        { "RegisterNodes", 4_500 },
        { "Write", 1_500 },
        { "SetPublishingMode", 1_200 },
    };

    [Theory]
    [MemberData(nameof(Services))]
    public void A_request_allocates_no_more_than_its_bound(string service, long bytesMax)
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        IServiceRequest request = Request(service, bench, client.Subscribe().SubscriptionId);
        Assert.IsNotType<ServiceFault>(client.Ask(request));
        using var body = new UaWriter();
        ServiceMessage.Write(body, request);
        long allocated = 0;
        for (int i = 0; i < WarmUps + Requests; i++)
        {
            long bytes = Allocated(bench, client, body.Written);
            allocated += i < WarmUps ? 0 : bytes;
        }

        Assert.InRange(allocated / Requests, 0, bytesMax);
    }

    // A cycle of 500 items that all changed, with its Publish request: what a notification costs is next to nothing.
    [Fact]
    public void A_publish_of_five_hundred_changes_allocates_less_than_two_kilobytes()
    {
        const int Items = 500;
        const long BytesMax = 2_000;
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        uint id = client.Subscribe().SubscriptionId;
        client.Ask<CreateMonitoredItemsResponse>(new CreateMonitoredItemsRequest
        {
            SubscriptionId = id,
            TimestampsToReturn = TimestampsToReturn.Both,
            ItemsToCreate = [.. Enumerable.Range(0, Items).Select(i => new MonitoredItemCreateRequest
            {
                ItemToMonitor = new ReadValueId { NodeId = bench.Outlet.NodeId, AttributeId = (uint)AttributeId.Value },
                MonitoringMode = MonitoringMode.Reporting,
                RequestedParameters = new MonitoringParameters { ClientHandle = (uint)i, SamplingInterval = 100, QueueSize = 1 },
            })],
        });
        using var body = new UaWriter();
        ServiceMessage.Write(body, new PublishRequest { RequestHeader = new RequestHeader { AuthenticationToken = client.Token }, SubscriptionAcknowledgements = [new SubscriptionAcknowledgement { SubscriptionId = id, SequenceNumber = 1 }] });
        (long allocated, long answered) = (0, 0);
        for (int i = 0; i < WarmUps + Requests; i++)
        {
            long bytes = Allocated(bench, client, body.Written);
            bench.Set(bench.Outlet, i);
            long before = GC.GetAllocatedBytesForCurrentThread();
            bench.Jump(100);
            bytes += GC.GetAllocatedBytesForCurrentThread() - before;
            client.Pump();
            answered += client.NextData().Length;
            client.Published.Clear();
            allocated += i < WarmUps ? 0 : bytes;
        }

        Assert.True(answered > Items * Requests, $"{answered} notifications");
        Assert.InRange(allocated / Requests, 0, BytesMax);
    }

    // The receiving side alone: the answer stays with the peer until the client pumps.
    private static long Allocated(ServerBench bench, BenchClient client, ReadOnlySpan<byte> body)
    {
        Assert.Equal(StatusCode.Good, client.Connection.Send(body, bench.Now, out _));
        byte[] wire = client.Connection.Output.ToArray();
        client.Connection.ClearOutput();
        long before = GC.GetAllocatedBytesForCurrentThread();
        client.Peer.Receive(wire, bench.Now);
        long allocated = GC.GetAllocatedBytesForCurrentThread() - before;
        client.Pump();
        return allocated;
    }

    private static IServiceRequest Request(string service, ServerBench bench, uint subscription) => service switch
    {
        "Read" => new ReadRequest { TimestampsToReturn = TimestampsToReturn.Both, NodesToRead = [.. Enumerable.Repeat(new ReadValueId { NodeId = bench.Outlet.NodeId, AttributeId = (uint)AttributeId.Value }, 100)] },
        "Browse" => new BrowseRequest { NodesToBrowse = [new BrowseDescription { NodeId = new NodeId(2253), IncludeSubtypes = true, ResultMask = 63 }] },
        "TranslateBrowsePaths" => new TranslateBrowsePathsToNodeIdsRequest { BrowsePaths = [new BrowsePath { StartingNode = new NodeId(84), RelativePath = new RelativePath { Elements = [new RelativePathElement { IncludeSubtypes = true, TargetName = new QualifiedName(0, "Objects") }] } }] },
        "RegisterNodes" => new RegisterNodesRequest { NodesToRegister = [.. Enumerable.Repeat(bench.Outlet.NodeId, 100)] },
        "Write" => new WriteRequest { NodesToWrite = [new WriteValue { NodeId = bench.Outlet.NodeId, AttributeId = (uint)AttributeId.Value, Value = new DataValue(new Variant(1.0)) }] },
        _ => new SetPublishingModeRequest { PublishingEnabled = true, SubscriptionIds = [subscription] },
    };
}
