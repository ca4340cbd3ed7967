using EdgeGuard.Core.Signals;
using EdgeGuard.Publication.Tests.Proof;
using EdgeGuard.Publication.Tests.Rigs;

namespace EdgeGuard.Publication.Tests.Hosting;

/// <summary>
/// Connections that break while the server sends. Alone, since it counts the threads of the process.
/// </summary>
[Collection("threads")]
[CollectionDefinition("threads", DisableParallelization = true)]
public sealed class BrokenConnectionTests
{
    private const int AtOnce = 8;
    private const int Lives = 30;

    [Fact]
    public void A_connection_that_breaks_under_a_notification_leaves_no_thread()
    {
        using var ring = new RingRig { ScanCapacity = 600 };
        ring.Start();
        ring.Scan();
        using PublicationHost host = HostRig.Start(ring);
        int before = HostThreads.Connections();
        using var stop = new ManualResetEventSlim();
        var writer = new Thread(() => Write(ring, stop)) { IsBackground = true };
        writer.Start();
        try
        {
            Thread[] clients = [.. Enumerable.Range(0, AtOnce).Select(i => new Thread(() => ComeAndGo(host.Port, i)))];
            Array.ForEach(clients, static c => c.Start());
            Array.ForEach(clients, static c => c.Join());
        }
        finally
        {
            stop.Set();
            writer.Join();
        }

        Assert.True(HostThreads.Fall(before, TimeSpan.FromSeconds(60)), $"{HostThreads.Connections()} threads of {AtOnce * Lives} broken connections, {before} before them");
    }

    // The last request and the reset meet a server that has a notification on its way: both threads of the connection send.
    private static void ComeAndGo(int port, int number)
    {
        var random = new Random(number);
        for (int life = 0; life < Lives; life++)
        {
            var client = new SoakClient(port, $"127.0.0.{number + 2}");
            client.Monitor(10, 50, "N-1/OutletTemperature");
            client.Publish(3);
            client.Take();
            Thread.Sleep(random.Next(0, 120));
            client.Close();
            client.Break();
        }
    }

    private static void Write(RingRig ring, ManualResetEventSlim stop)
    {
        for (int count = 1; !stop.Wait(2); count++)
        {
            ring.SetSignal(0, SignalRole.OutletTemperature, count);
            ring.Scan();
        }
    }
}
