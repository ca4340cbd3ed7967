using System.Globalization;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;

namespace EdgeGuard.Benchmarks;

/// <summary>
/// What 50 sessions cost that only stay: encrypted channel, session, one subscription of 100 ms without items that sends a
/// keep-alive each second.
/// </summary>
/// <param name="own">Certificate of the clients.</param>
internal sealed class IdleLoad(ApplicationInstance own)
{
    private const int Sessions = 50;
    private const int SettleMs = 5000;

    public string Run(double seconds, BenchTable table)
    {
        using ServerProcess server = ServerProcess.Own(ReadLoad.Variables);
        LoadTarget target = new LoadTarget("edgeguard", server.Port, BenchIds.OwnNamespace).Learn();
        Connect(target).Dispose();
        Thread.Sleep(SettleMs);
        double alone = CpuShare(server, seconds);
        long liveAlone = server.LiveBytes();
        long memoryAlone = server.MemoryBytes;
        LoadClient[] clients = [.. Enumerable.Range(0, Sessions).Select(_ => Connect(target))];
        using var stop = new CancellationTokenSource();
        Task[] tasks = [.. clients.Select(client => Task.Factory.StartNew(() => Answer(client, stop.Token), CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default))];
        Thread.Sleep(SettleMs);
        double busy = CpuShare(server, seconds);
        long memory = server.MemoryBytes;
        long live = server.LiveBytes();
        stop.Cancel();
        Task.WaitAll(tasks);
        foreach (LoadClient client in clients)
        {
            client.Dispose();
        }

        string cost = string.Create(CultureInfo.InvariantCulture, $"{Sessions} idle sessions +{busy - alone:P2} CPU, +{(memory - memoryAlone) / 1048576.0:F1} MiB");
        string load = string.Create(CultureInfo.InvariantCulture, $"{Sessions} idle sessions (without them {alone * 100:F1} % of one core, {memoryAlone / 1048576.0:F0} MiB)");
        table.Add(load, "Basic256Sha256 SignAndEncrypt", BenchTable.Figure((memory - memoryAlone) / 1024.0 / Sessions, "F0", " KiB a session, ") + BenchTable.Figure((live - liveAlone) / 1024.0 / Sessions, "F0", " KiB of it in use"), cpuOurs: "+" + BenchTable.Figure((busy - alone) * 100, "F2", " %"));
        return cost;
    }

    private static double CpuShare(ServerProcess server, double seconds)
    {
        TimeSpan before = server.Cpu;
        Thread.Sleep(TimeSpan.FromSeconds(seconds));
        return (server.Cpu - before).TotalSeconds / seconds;
    }

    private static void Answer(LoadClient client, CancellationToken stop)
    {
        client.Post(new PublishRequest());
        client.Post(new PublishRequest());
        while (!stop.IsCancellationRequested)
        {
            client.Receive();
            client.Post(new PublishRequest());
        }
    }

    private LoadClient Connect(LoadTarget target)
    {
        var client = new LoadClient(target, own);
        client.OpenSession();
        client.Ask<CreateSubscriptionResponse>(new CreateSubscriptionRequest
        {
            RequestedPublishingInterval = BenchHost.ChangeMs,
            RequestedMaxKeepAliveCount = 10,
            RequestedLifetimeCount = 1000,
            PublishingEnabled = true,
        });
        return client;
    }
}
