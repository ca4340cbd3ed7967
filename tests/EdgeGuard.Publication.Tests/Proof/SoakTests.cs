using System.Globalization;
using EdgeGuard.Core.Signals;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.Publication.Tests.Rigs;

namespace EdgeGuard.Publication.Tests.Proof;

/// <summary>
/// Clients that come and go over real sockets, some in order and some by a broken one, while a value counts the scans:
/// no count is missing between two notifications, no session and no thread stays behind, memory is flat. The check runs some seconds
/// with ten clients; tests/long opcua-soak an hour with fifty. Alone, since it counts the threads of the process.
/// </summary>
[Collection("threads")]
public sealed class SoakTests
{
    private const string Counter = "N-1/OutletTemperature";
    private const uint CurrentSessionCount = 2277; // NodeIds.csv: Server_ServerDiagnostics_ServerDiagnosticsSummary_CurrentSessionCount
    private const long GrowthBytesMax = 16L * 1024 * 1024;

    private readonly RingRig _ring = new() { ScanCapacity = 600 };
    private volatile bool _ends;
    private long _taken;
    private long _lost;
    private long _lives;

    [Fact]
    public void Clients_come_and_go_without_a_lost_sample_a_leaked_session_or_growth()
    {
        bool isLong = Environment.GetEnvironmentVariable("EDGEGUARD_LONG_MINUTES") is { Length: > 0 };
        double minutes = isLong ? double.Parse(Environment.GetEnvironmentVariable("EDGEGUARD_LONG_MINUTES")!, CultureInfo.InvariantCulture) : 0.1;
        int clients = isLong ? 50 : 10;
        _ring.Start();
        _ring.SetSignal(0, SignalRole.OutletTemperature, 0); // before the first count, whenever a client comes
        _ring.Scan();
        using PublicationHost host = HostRig.Start(_ring);
        Thread writer = Run(Write);
        Thread[] threads = [.. Enumerable.Range(0, clients).Select(i => Run(() => Client(host.Port, i)))];

        // The first fifth fills pools and caches.
        Thread.Sleep(TimeSpan.FromMinutes(minutes / 5));
        long settled = Settled();
        Thread.Sleep(TimeSpan.FromMinutes(minutes * 4 / 5));
        long grown = Settled() - settled;
        _ends = true;
        Array.ForEach(threads, static t => Assert.True(t.Join(60_000), "a client hangs"));
        writer.Join();
        uint left = SessionsLeft(host.Port);
        bool ended = HostThreads.Fall(0, TimeSpan.FromSeconds(60));
        string figures = $"{clients} clients, {minutes} min, {_lives} lives, {_taken} samples, {_lost} lost, {left} sessions left, {HostThreads.Connections()} threads left, memory {grown / 1024} KiB";
        if (Environment.GetEnvironmentVariable("EDGEGUARD_LONG_RESULT") is { Length: > 0 } file)
        {
            File.WriteAllText(file, figures);
        }

        Assert.True(_taken > clients * 10 && _lost == 0 && left == 0 && ended && grown < GrowthBytesMax, figures);
        _ring.Dispose();
    }

    private static Thread Run(Action action)
    {
        var thread = new Thread(() => action()) { IsBackground = true };
        thread.Start();
        return thread;
    }

    private static long Settled() => GC.GetTotalMemory(forceFullCollection: true);

    // Broken sockets leave sessions for the 10 s of their time-out; the asking one counts itself.
    private static uint SessionsLeft(int port)
    {
        using var client = new SoakClient(port, "127.0.0.99", 60_000);
        uint left = 1;
        for (long end = Environment.TickCount64 + 60_000; Environment.TickCount64 < end && left > 0; Thread.Sleep(200))
        {
            left = client.ReadUInt32(CurrentSessionCount) - 1;
        }

        return left;
    }

    private void Write()
    {
        for (int count = 1; !_ends; count++)
        {
            _ring.SetSignal(0, SignalRole.OutletTemperature, count);
            _ring.Scan();
            Thread.Sleep(100);
        }
    }

    private void Client(int port, int number)
    {
        var random = new Random(number);
        while (!_ends)
        {
            using var client = new SoakClient(port, $"127.0.0.{(number % 25) + 2}");
            client.Monitor(200, 50, Counter, "N-1/State", "N-1/Permit");
            client.Publish(3);
            double last = 0;
            for (long end = Environment.TickCount64 + random.Next(1_000, 10_000); Environment.TickCount64 < end && !_ends;)
            {
                foreach (MonitoredItemNotification change in client.Take().Where(static c => c.ClientHandle == 0))
                {
                    double value = change.Value.Value.AsDouble;
                    Interlocked.Add(ref _lost, last > 0 && value != last + 1 ? 1 : 0);
                    Interlocked.Increment(ref _taken);
                    last = value;
                }
            }

            Interlocked.Increment(ref _lives);
            if (random.Next(5) > 0)
            {
                client.Close();
            }
        }
    }
}
