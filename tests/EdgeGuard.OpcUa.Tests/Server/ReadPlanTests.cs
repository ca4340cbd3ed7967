using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.Tests.Server;

/// <summary>A list of nodes that a connection reads again is not decoded again: nobody may notice but by the time it takes.</summary>
public sealed class ReadPlanTests
{
    private static ReadRequest Reading(params NodeId[] nodes) => new()
    {
        TimestampsToReturn = TimestampsToReturn.Both,
        NodesToRead = [.. nodes.Select(static node => new ReadValueId { NodeId = node, AttributeId = (uint)AttributeId.Value })],
    };

    private static DataValue[] Read(BenchClient client, params NodeId[] nodes) => client.Ask<ReadResponse>(Reading(nodes)).Results!;

    [Fact]
    public void A_list_read_again_gives_the_values_of_now_and_those_of_a_first_read()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        NodeId[] nodes = [bench.Outlet.NodeId, new NodeId(2259), bench.State.NodeId, bench.Flow.NodeId, bench.Trend.NodeId];
        for (int round = 0; round < 5; round++)
        {
            Assert.Equal(round >= 2, client.Peer.Plan.IsSet);
            bench.Set(bench.Outlet, round, round == 4 ? StatusCode.BadSensorFailure : StatusCode.Good);
            bench.Run(100);
            DataValue[] values = Read(client, nodes);
            Assert.Equal(round == 4 ? 0 : round, values[0].Value.AsDouble);
            using BenchClient first = bench.Activated();
            Assert.Equal(Read(first, nodes), values);
            bench.Forget(first);
        }
    }

    [Fact]
    public void Another_list_of_the_same_length_is_read_as_it_is()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        for (int round = 0; round < 4; round++)
        {
            Assert.Equal([20.0, 20, 20], Read(client, bench.Outlet.NodeId, bench.Outlet.NodeId, bench.Outlet.NodeId).Select(static v => v.Value.AsDouble));
        }

        // Beginning and end as in the list that is kept.
        Assert.True(client.Peer.Plan.IsSet);
        Assert.Equal(StatusCode.BadNodeIdUnknown, Read(client, bench.Outlet.NodeId, new NodeId(2, "N-1/outlat"), bench.Outlet.NodeId)[1].Status);
        Assert.Equal([20.0, 20, 20], Read(client, bench.Outlet.NodeId, bench.Outlet.NodeId, bench.Outlet.NodeId).Select(static v => v.Value.AsDouble));
    }

    // Same length, same beginning and end: neither drives the other out, and nothing is allocated for the attempt.
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Two_lists_in_turn_are_read_and_allocate_nothing_more(bool isOneKept)
    {
        const int Reads = 400;
        const long BytesMax = 1_000;
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        byte[][] bodies = [.. ((NodeId[][])[[bench.Outlet.NodeId, bench.Flow.NodeId, bench.Outlet.NodeId], [bench.Outlet.NodeId, bench.Outlet.NodeId, bench.Flow.NodeId]]).Select(nodes =>
        {
            ReadRequest request = Reading([.. Enumerable.Range(0, 90).Select(i => nodes[i % 3])]);
            request.RequestHeader = new RequestHeader { AuthenticationToken = client.Token };
            return Wire.Bytes(w => ServiceMessage.Write(w, request));
        })];
        long allocated = 0;
        for (int i = 0; i < 2 * Reads; i++)
        {
            byte[] body = bodies[isOneKept && i < 4 ? 0 : i % 2];
            Assert.Equal(StatusCode.Good, client.Connection.Send(body, bench.Now, out _));
            byte[] wire = client.Connection.Output.ToArray();
            client.Connection.ClearOutput();
            long before = GC.GetAllocatedBytesForCurrentThread();
            client.Peer.Receive(wire, bench.Now);
            allocated += i < Reads ? 0 : GC.GetAllocatedBytesForCurrentThread() - before;
            client.Pump();
        }

        Assert.Equal(isOneKept, client.Peer.Plan.IsSet);
        Assert.InRange(allocated / Reads, 0, BytesMax);
    }

    [Fact]
    public void A_node_that_goes_or_comes_counts_at_once()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        NodeId[] nodes = [bench.Outlet.NodeId, bench.State.NodeId];
        Planned(client, nodes);
        bench.Space.Remove(bench.State);
        Assert.Equal(StatusCode.BadNodeIdUnknown, Read(client, nodes)[1].Status);
        bench.Space.Add(bench.State);
        Assert.Equal("Ready", Read(client, nodes)[1].Value.AsString);
    }

    [Fact]
    public void Rights_age_and_timestamps_are_those_of_each_read()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        NodeId[] nodes = [bench.Outlet.NodeId, bench.Flow.NodeId];
        Planned(client, nodes);
        bench.Flow.ReadRoles = CallerRoles.Operator;
        Assert.Equal(StatusCode.BadUserAccessDenied, Read(client, nodes)[1].Status);
        ReadRequest bare = Reading(nodes);
        bare.TimestampsToReturn = TimestampsToReturn.Neither;
        Assert.All(client.Ask<ReadResponse>(bare).Results!, static value => Assert.True(value.SourceTimestamp.IsNull && value.ServerTimestamp.IsNull));
        ReadRequest aged = Reading(nodes);
        aged.MaxAge = -1;
        Assert.Equal(StatusCode.BadMaxAgeInvalid, client.AskFault(aged));
        Assert.True(client.Peer.Plan.IsSet);
    }

    // The diagnostics of the session count every read, whichever way it went, and its faults.
    [Fact]
    public void Every_read_is_counted()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        NodeId[] nodes = [bench.Outlet.NodeId];
        Planned(client, nodes);
        Read(client, nodes);
        ReadRequest aged = Reading(nodes);
        aged.MaxAge = -1;
        client.AskFault(aged);
        ServiceCounterDataType reads = Assert.Single(bench.Server.Diagnostics.Sessions()).ReadCount;
        Assert.Equal((5u, 1u), (reads.TotalCount, reads.ErrorCount));
    }

    [Fact]
    public void A_session_that_ended_or_is_anothers_reads_nothing_by_it()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        BenchClient other = bench.Activated();
        NodeId[] nodes = [bench.Outlet.NodeId];
        Planned(client, nodes);
        NodeId own = client.Token;
        client.Token = other.Token;
        Assert.Equal(StatusCode.BadSecureChannelIdInvalid, client.AskFault(Reading(nodes)));
        client.Token = own;
        client.Ask<CloseSessionResponse>(new CloseSessionRequest());
        Assert.Equal(StatusCode.BadSessionIdInvalid, client.AskFault(Reading(nodes)));
    }

    [Fact]
    public void What_is_not_plain_or_too_long_is_not_kept()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        ReadRequest ranged = Reading(bench.Trend.NodeId);
        ranged.NodesToRead![0].IndexRange = "0";
        ReadRequest named = Reading(bench.Outlet.NodeId);
        named.NodesToRead![0].AttributeId = (uint)AttributeId.BrowseName;
        ReadRequest encoded = Reading(new NodeId(2256));
        encoded.NodesToRead![0].DataEncoding = new QualifiedName(0, "Default Binary");
        ReadRequest[] requests = [ranged, named, encoded, Reading(new NodeId(2, "nowhere")), Reading(new NodeId(2253)), Reading([.. Enumerable.Repeat(bench.Flow.NodeId, 257)])];
        foreach (ReadRequest request in requests)
        {
            for (int i = 0; i < 4; i++)
            {
                client.Ask<ReadResponse>(request);
                Assert.False(client.Peer.Plan.IsSet);
            }
        }
    }

    // An answer larger than the client takes is a fault on this way too.
    [Fact]
    public void An_answer_too_large_for_the_client_is_a_fault()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Connect();
        client.CreateSession(responseBytesMax: 8192);
        client.Activate();
        NodeId[] nodes = [bench.State.NodeId];
        Planned(client, nodes);
        bench.State.Set(new Variant(new string('x', 9_000)), bench.Now.Utc);
        Assert.Equal(StatusCode.BadResponseTooLarge, client.AskFault(Reading(nodes)));
        bench.State.Set(new Variant("Ready"), bench.Now.Utc);
        Assert.Equal("Ready", Read(client, nodes)[0].Value.AsString);
    }

    private static void Planned(BenchClient client, NodeId[] nodes)
    {
        for (int i = 0; i < 3; i++)
        {
            Read(client, nodes);
        }

        Assert.True(client.Peer.Plan.IsSet);
    }
}
