using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.Server;
using EdgeGuard.OpcUa.Tests.Server;

namespace EdgeGuard.OpcUa.Tests.Contract;

/// <summary>
/// Many short operation sequences against one server after another: each opens a session, asks a few services at random
/// on its own and foreign sessions and subscriptions, and ends in order, by a broken socket or by being left alone. The
/// figures of the server stay within its limits, memory stays flat, and an honest client is served. The check runs a
/// sample, tests/long opcua-operations a million.
/// </summary>
public sealed class OperationSequenceTests
{
    private const int Sequences = 1_000;
    private const int SequencesPerServer = 250;
    private const int OperationsMax = 20;
    private const int TogetherMax = 4;
    private const long GrowthBytesMax = 32L * 1024 * 1024;

    [Fact]
    public void Any_sequences_of_operations_leave_the_server_bounded_and_serving()
    {
        int servers = FuzzScale.Of(Sequences) / SequencesPerServer;
        long settled = 0;
        long answered = 0;
        for (int seed = 1; seed <= servers; seed++)
        {
            try
            {
                answered += Live(seed);
            }
            catch (Exception e)
            {
                throw new InvalidOperationException($"seed {seed}: {e.Message}", e);
            }

            // After one server the pools have grown; from then on nothing may stay behind.
            if (seed == 1 || seed % 100 == 0 || seed == servers)
            {
                long bytes = GC.GetTotalMemory(forceFullCollection: true);
                settled = seed == 1 ? bytes : settled;
                Assert.True(bytes - settled < GrowthBytesMax, $"{bytes - settled} bytes more after {seed} servers");
            }
        }

        TestContext.Current.TestOutputHelper!.WriteLine($"{servers * SequencesPerServer} sequences, {answered} operations");
        Assert.True(answered > servers * SequencesPerServer);
    }

    private static long Live(int seed)
    {
        var random = new Random(seed);
        var limits = new ServerLimits { ItemsPerSessionMax = 20, QueuedValuesPerSessionMax = 100, PublishRequestsPerSessionMax = 4, RetransmissionsMax = 3 };
        using var bench = new ServerBench(ServerBench.Plain with { Limits = limits });
        int nodes = bench.Space.Count;
        List<BenchClient> clients = [bench.Activated()];
        long operations = 0;
        for (int sequence = 0; sequence < SequencesPerServer; sequence++)
        {
            operations += Run(random, bench, clients);
            Assert.InRange(bench.Server.SessionCount, 0, (int)bench.Server.Options.Operations.Sessions);
            TransientNodes.Check(bench, nodes);
            Assert.InRange(bench.Server.SubscriptionCount, 0, (int)(bench.Server.Options.Operations.Sessions * bench.Server.Options.Operations.SubscriptionsPerSession));
        }

        CheckServed(bench, clients, nodes);
        return operations;
    }

    private static int Run(Random random, ServerBench bench, List<BenchClient> clients)
    {
        BenchClient client = bench.Activated();
        clients.Add(client);
        int operations = random.Next(1, OperationsMax + 1);
        for (int i = 0; i < operations && !client.Peer.IsClosed; i++)
        {
            OperationFuzzTests.Step(random, bench, client, clients[random.Next(clients.Count)]);
        }

        if (random.Next(3) == 0 && !client.Peer.IsClosed)
        {
            client.Ask(new CloseSessionRequest { DeleteSubscriptions = random.Next(2) == 0 });
        }

        // Those that are left alone stay a while beside the next ones.
        while (clients.Count > 1 && (clients.Count > TogetherMax || random.Next(2) == 0))
        {
            BenchClient left = clients[random.Next(clients.Count)];
            clients.Remove(left);
            bench.Forget(left);
        }

        return operations;
    }

    // Once everybody is gone and all lifetimes have passed, no session and no subscription is left.
    private static void CheckServed(ServerBench bench, List<BenchClient> clients, int nodes)
    {
        const long HourMs = 3_600_000;
        clients.ForEach(bench.Forget);
        bench.Jump(2 * HourMs);
        Assert.Equal(0, bench.Server.SessionCount);
        TransientNodes.Check(bench, nodes);
        BenchClient honest = bench.Activated();
        uint id = honest.Subscribe().SubscriptionId;
        honest.Monitor(id, new NodeId(2, "N-1/state"));
        honest.Publish();
        bench.Run(200);
        Assert.Single(honest.NextData());
    }
}
