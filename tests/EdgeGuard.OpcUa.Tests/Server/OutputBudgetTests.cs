using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.Server;

namespace EdgeGuard.OpcUa.Tests.Server;

/// <summary>What waits for all clients together is bounded; the one that reads nothing for the longest time goes first.</summary>
public sealed class OutputBudgetTests
{
    private const int BudgetBytes = 1_000_000;
    private static readonly NodeId Trend = new(2, "N-1/trend");

    [Fact]
    public void The_client_that_reads_nothing_for_the_longest_time_is_cut_off_and_the_others_are_served()
    {
        using var bench = new ServerBench(ServerBench.Plain with { Limits = new ServerLimits { OutputBytesMax = BudgetBytes } });
        bench.Trend.Set(Variant.FromArray(BuiltInType.Double, new double[10_000]), bench.Now.Utc);
        // Accepted in the other order, so that not the place in the list decides.
        BenchClient second = bench.Activated();
        BenchClient first = bench.Activated();
        BenchClient honest = bench.Activated();
        int aborted = 0;
        first.Peer.OnAbort(() => aborted++);
        AskWithoutReading(bench, first, 5);
        bench.Jump(100);
        AskWithoutReading(bench, second, 5);
        Assert.False(first.Peer.IsClosed);

        // 80,000 bytes an answer: 5 + 5 fit, three more do not.
        AskWithoutReading(bench, second, 3);
        Assert.True(first.Peer.IsClosed, $"{bench.Server.Output.Bytes} bytes wait, of them {first.Peer.OutputBytes} of the first, {second.Peer.OutputBytes} of the second");
        Assert.Equal(1, aborted);
        Assert.Contains("read nothing for the longest time", first.Peer.CloseCause, StringComparison.Ordinal);
        Assert.False(second.Peer.IsClosed);
        Assert.Equal(10_000, ((double[])honest.Read(Trend).Value.Elements!).Length);
        second.Pump();
        for (int i = 0; i < 50; i++)
        {
            honest.Read(Trend);
            second.Read(Trend);
        }

        Assert.False(honest.Peer.IsClosed || second.Peer.IsClosed);
    }

    private static void AskWithoutReading(ServerBench bench, BenchClient client, int count)
    {
        for (int i = 0; i < count; i++)
        {
            client.Post(new ReadRequest { NodesToRead = [new ReadValueId { NodeId = Trend, AttributeId = (uint)AttributeId.Value }] });
            byte[] sent = client.Connection.Output.ToArray();
            client.Connection.ClearOutput();
            client.Peer.Receive(sent, bench.Now);
        }
    }
}
