using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.Tests.Server;

/// <summary>Reads of a connection share one request object: nothing of one read may show in another, and polling allocates next to nothing.</summary>
public sealed class SpareReadTests
{
    private static ReadRequest Reading(params NodeId[] nodes) => new()
    {
        TimestampsToReturn = TimestampsToReturn.Both,
        NodesToRead = [.. nodes.Select(static node => new ReadValueId { NodeId = node, AttributeId = (uint)AttributeId.Value })],
    };

    private static double[] Values(BenchClient client, params NodeId[] nodes) =>
        [.. client.Ask<ReadResponse>(Reading(nodes)).Results!.Select(static value => value.Value.AsDouble)];

    [Fact]
    public void Reads_of_the_same_length_do_not_mix()
    {
        using var bench = new ServerBench();
        using BenchClient one = bench.Activated();
        using BenchClient other = bench.Activated();
        Assert.Equal([20, 100], Values(one, bench.Outlet.NodeId, bench.Flow.NodeId));
        Assert.Equal([100, 100], Values(other, bench.Flow.NodeId, bench.Flow.NodeId));
        Assert.Equal([100, 20], Values(one, bench.Flow.NodeId, bench.Outlet.NodeId));
        Assert.Equal([20], Values(one, bench.Outlet.NodeId));
        Assert.Equal([20, 20, 100], Values(one, bench.Outlet.NodeId, bench.Outlet.NodeId, bench.Flow.NodeId));
    }

    [Fact]
    public void A_range_of_one_read_is_not_applied_to_the_next()
    {
        using var bench = new ServerBench();
        using BenchClient client = bench.Activated();
        ReadRequest ranged = Reading(bench.Outlet.NodeId);
        ranged.NodesToRead![0].IndexRange = "0:1";
        Assert.True(client.Ask<ReadResponse>(ranged).Results![0].Status.IsBad());
        Assert.Equal([20], Values(client, bench.Outlet.NodeId));
    }

    [Fact]
    public void A_read_that_cannot_be_decoded_leaves_the_next_one_whole()
    {
        using var bench = new ServerBench();
        using BenchClient client = bench.Activated();
        Assert.Equal([20, 100], Values(client, bench.Outlet.NodeId, bench.Flow.NodeId));
        ReadRequest request = Reading(bench.Flow.NodeId, bench.Flow.NodeId);
        request.RequestHeader = new RequestHeader { AuthenticationToken = client.Token, RequestHandle = 77 };
        using var body = new UaWriter();
        ServiceMessage.Write(body, request);
        Assert.Equal(StatusCode.Good, client.Connection.Send(body.Written[..^3], bench.Now, out _));
        client.Pump();
        ServiceFault fault = Assert.IsType<ServiceFault>(Assert.Single(client.Published));
        Assert.Equal((77u, StatusCode.BadDecodingError), (fault.ResponseHeader.RequestHandle, fault.ResponseHeader.ServiceResult));
        Assert.Equal([20, 100], Values(client, bench.Outlet.NodeId, bench.Flow.NodeId));
    }

    [Theory]
    [InlineData(256)]
    [InlineData(257)]
    public void A_read_of_any_length_is_answered(int nodes)
    {
        using var bench = new ServerBench();
        using BenchClient client = bench.Activated();
        NodeId[] ids = [.. Enumerable.Repeat(bench.Flow.NodeId, nodes)];
        Assert.All(Values(client, ids), static value => Assert.Equal(100, value));
        Assert.All(Values(client, ids), static value => Assert.Equal(100, value));
        Assert.Equal(nodes <= 256 ? nodes : 0, client.Peer.SpareRead.NodesToRead?.Length ?? 0);
    }

    [Fact]
    public void Nothing_of_a_client_is_kept_between_reads()
    {
        using var bench = new ServerBench();
        using BenchClient client = bench.Activated();
        ReadRequest request = Reading(bench.Flow.NodeId, new NodeId(2, new string('x', 60_000)));
        client.Ask<ReadResponse>(request);
        Assert.All(client.Peer.SpareRead.NodesToRead!, static kept => Assert.True(kept.NodeId.IsNull && kept.IndexRange is null));
        Assert.True(client.Peer.SpareRead.RequestHeader.AuthenticationToken.IsNull);
    }

    // What is left is the header with its token; the bound keeps the rest from growing unnoticed.
    [Fact]
    public void Polling_a_hundred_text_nodes_allocates_less_than_a_kilobyte()
    {
        const int Reads = 1_000;
        const long BytesMax = 1_000;
        using var bench = new ServerBench();
        using BenchClient client = bench.Activated();
        ReadRequest request = Reading([.. Enumerable.Repeat(bench.Flow.NodeId, 100)]);
        request.RequestHeader = new RequestHeader { AuthenticationToken = client.Token };
        using var body = new UaWriter();
        ServiceMessage.Write(body, request);
        UaWriter spare = client.Peer.CreateOutput();
        byte[] wire = new byte[65_536];
        long allocated = 0;
        for (int i = 0; i < Reads + 100; i++)
        {
            Assert.Equal(StatusCode.Good, client.Connection.Send(body.Written, bench.Now, out _));
            int length = client.Connection.Output.Length;
            client.Connection.Output.CopyTo(wire);
            client.Connection.ClearOutput();
            long before = GC.GetAllocatedBytesForCurrentThread();
            client.Peer.Receive(wire.AsSpan(0, length), bench.Now);
            spare = client.Peer.TakeOutput(spare) ?? spare;
            allocated += i < 100 ? 0 : GC.GetAllocatedBytesForCurrentThread() - before;
            Assert.True(spare.Length > 100 * sizeof(double));
        }

        Assert.InRange(allocated / Reads, 0, BytesMax);
        spare.Dispose();
    }
}
