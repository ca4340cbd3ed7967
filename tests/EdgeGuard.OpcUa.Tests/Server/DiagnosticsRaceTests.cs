using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.Services;

namespace EdgeGuard.OpcUa.Tests.Server;

/// <summary>
/// Readers take no lock of the space while sessions and subscriptions come and go in another thread: what they find is there
/// whole or unknown, never half of it, and a browse names no node twice.
/// </summary>
public sealed class DiagnosticsRaceTests
{
    private const int Rounds = 300;
    private static readonly CallerContext Admin = new() { Roles = CallerRoles.Any };

    [Fact]
    public void Reading_and_browsing_beside_sessions_that_come_and_go_finds_whole_nodes_or_none()
    {
        using var bench = new ServerBench();
        UaDateTime now = bench.Now.Utc;
        var context = new ServiceContext(bench.Space, Admin, now, new OperationLimits());
        var stop = new ManualResetEventSlim();
        Exception? failure = null;
        int found = 0;
        var reader = new Thread(() =>
        {
            try
            {
                var points = new BrowsePointStore(4);
                while (!stop.IsSet)
                {
                    found += Look(context, points, DiagnosticsReader.Summary) + Look(context, points, DiagnosticsReader.AllSubscriptions);
                }
            }
            catch (Exception e)
            {
                failure = e;
            }
        });
        reader.Start();
        for (int round = 0; round < Rounds || Volatile.Read(ref found) < Rounds; round++)
        {
            BenchClient client = bench.Activated();
            client.Subscribe();
            client.Subscribe();
            client.Ask<CloseSessionResponse>(new CloseSessionRequest { DeleteSubscriptions = true });
            bench.Forget(client);
            if (failure is not null)
            {
                break;
            }
        }

        stop.Set();
        reader.Join();
        Assert.True(failure is null, failure?.ToString());
        Assert.True(found >= Rounds, $"{found} nodes were found");
    }

    // In parts of two, then into whatever was named; returns how many values were read.
    private static int Look(in ServiceContext context, BrowsePointStore points, NodeId holder)
    {
        HashSet<NodeId> named = [];
        BrowseResult part = ((BrowseResponse)BrowseService.Browse(context, points, new BrowseRequest { RequestedMaxReferencesPerNode = 2, NodesToBrowse = [DiagnosticsReader.Components(holder)] })).Results![0];
        while (true)
        {
            Assert.Equal(StatusCode.Good, part.StatusCode);
            Assert.All(part.References!, reference => Assert.True(named.Add(reference.NodeId.NodeId), $"{reference.NodeId} twice"));
            if (part.ContinuationPoint is null)
            {
                break;
            }

            part = ((BrowseNextResponse)BrowseService.BrowseNext(context, points, new BrowseNextRequest { ContinuationPoints = [part.ContinuationPoint] })).Results![0];
        }

        int found = 0;
        foreach (NodeId node in named)
        {
            found += Read(context, node);
        }

        return found;
    }

    private static int Read(in ServiceContext context, NodeId id)
    {
        if (context.Space.Find(id) is not { } node)
        {
            return 0;
        }

        int found = 0;
        foreach (Reference reference in node.References)
        {
            if (reference.Target is VariableNode { NodeId.NamespaceIndex: 1 } variable)
            {
                DataValue value = AttributeReader.Read(context, new ReadValueId { NodeId = variable.NodeId, AttributeId = (uint)AttributeId.Value });
                Assert.True(value.Status == StatusCode.BadNodeIdUnknown || (value.Status == StatusCode.Good && DataTypes.Accepts(context.Space, variable.DataType, variable.ValueRank, value.Value)), $"{variable}: {value.Status} {value.Value.Type}");
                found += value.Status == StatusCode.Good ? 1 : 0;
            }
        }

        return found;
    }
}
