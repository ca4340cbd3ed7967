using System.Globalization;
using System.Net;
using System.Security.Cryptography.X509Certificates;
using EdgeGuard.OpcUa.SecureChannel;

namespace EdgeGuard.Benchmarks;

/// <summary>
/// The whole benchmark. Servers take turns under the same generator, so that what else the machine does falls on all of
/// them; figures are medians of turns and ratios are made turn by turn.
/// </summary>
internal sealed class BenchRun
{
    public const string ClientUri = "urn:edgeguard:bench:client";
    private const double WarmUpSeconds = 3;
    private const int Items = 10_000;
    private const int Clients = 5;

    // Many at once, so that both virtual machines have compiled their hot code before a turn counts.
    private const int WarmUpOnTheirWay = 8;

    private const string Plain = "plain";
    private const string Encrypted = "Basic256Sha256 SignAndEncrypt";

    // Times the npm server, and what the C stack reached on the machine of the reference runs.
    private const string PlainGoal = "8.5; 14,200/s";
    private const string EncryptedGoal = "6.6; 10,600/s";

    private readonly RunOptions _options;
    private readonly ApplicationInstance _own;
    private readonly BenchTable _table = new();
    private readonly List<string> _results = [];
    private bool _failed;

    private BenchRun(RunOptions options, ApplicationInstance own)
    {
        (_options, _own) = (options, own);
    }

    public static int Run(RunOptions options)
    {
        using X509Certificate2 certificate = ApplicationCertificate.CreateSelfSigned("EdgeGuard bench client", ClientUri, ["localhost"], [IPAddress.Loopback], DateTime.UtcNow);
        using var own = new ApplicationInstance(certificate);
        var run = new BenchRun(options, own);
        Say($"{Environment.ProcessorCount} core(s) for the generator, load average before {LoadAverage()}; {options.Rounds} rounds of {options.Seconds} s, medians");
        run.All();
        run._table.Print();
        Say($"load average after {LoadAverage()}");
        Console.WriteLine("opcua-benchmark: " + string.Join("; ", run._results));
        return run._failed ? 1 : 0;
    }

    private void All()
    {
        if (_options.Only is null or "engine")
        {
            EngineLoad.Run(_own, _table);
        }

        if (_options.Only is null or "reads")
        {
            Reads();
        }

        if (_options.Only is null or "notifications")
        {
            Notifications(1, Items, null, Plain);
            Notifications(1, Items, _own, Encrypted);
            Notifications(Clients, Items / Clients, null, Plain);
        }

        if (_options.Only is null or "idle")
        {
            _results.Add(new IdleLoad(_own).Run(_options.Seconds * _options.Rounds, _table));
        }
    }

    private void Reads()
    {
        using ServerProcess ours = ServerProcess.Own(ReadLoad.Variables);
        using ServerProcess? node = _options.NodeFolder is null ? null : ServerProcess.Node(_options.NodeFolder);
        LoadTarget ourTarget = new LoadTarget("edgeguard", ours.Port, BenchIds.OwnNamespace).Learn();
        LoadTarget? nodeTarget = node is null ? null : new LoadTarget("npm", node.Port, BenchIds.NodeNamespace).Learn();
        using (var first = new ReadLoad(ourTarget, own: null))
        {
            first.Run(WarmUpSeconds, WarmUpOnTheirWay);
        }

        foreach (ApplicationInstance? own in (ApplicationInstance?[])[null, _own])
        {
            foreach (int onTheirWay in (int[])[1, 8])
            {
                using var our = new ReadTurns(ours, new ReadLoad(ourTarget, own), own: true);
                using ReadTurns? theirs = node is null ? null : new ReadTurns(node, new ReadLoad(nodeTarget!, own), own: false);
                Turns(our, theirs, onTheirWay);
                Tell(own is null ? Plain : Encrypted, our, theirs, onTheirWay);
            }
        }
    }

    private void Turns(ReadTurns ours, ReadTurns? theirs, int onTheirWay)
    {
        ours.WarmUp(_options.Seconds, WarmUpOnTheirWay);
        theirs?.WarmUp(_options.Seconds, WarmUpOnTheirWay);
        for (int round = 0; round < _options.Rounds; round++)
        {
            ours.Turn(_options.Seconds, onTheirWay);
            theirs?.Turn(_options.Seconds, onTheirWay);
        }
    }

    private void Tell(string security, ReadTurns ours, ReadTurns? theirs, int onTheirWay)
    {
        double ratio = theirs is null ? double.NaN : Median.Of(ours.Rates.Zip(theirs.Rates, static (our, their) => our / their));
        string goal = onTheirWay > 1 ? BenchTable.None : security == Plain ? PlainGoal : EncryptedGoal;
        _table.Add(
            $"reads of 100 Doubles, {onTheirWay} on their way", security, BenchTable.Figure(ours.Rate, "F0", "/s"), BenchTable.Figure(theirs?.Rate, "F0", "/s"), BenchTable.Figure(ratio, "F1"), goal,
            BenchTable.Figure(ours.CpuMicroseconds, "F1", " µs"), BenchTable.Figure(theirs?.CpuMicroseconds, "F0", " µs"), BenchTable.Figure(ours.AllocatedBytes, "F0", " B"));
        if (onTheirWay == 1)
        {
            _results.Add(Text($"{security} {ours.Rate:F0} reads/s, {ratio:F1} x npm"));
        }
    }

    private void Notifications(int clients, int items, ApplicationInstance? own, string security)
    {
        using ServerProcess server = ServerProcess.Own(Items);
        LoadTarget target = new LoadTarget("edgeguard", server.Port, BenchIds.OwnNamespace).Learn();
        NotificationLoad[] loads = [.. Enumerable.Range(0, clients).Select(i => new NotificationLoad(target, own, items, i * items))];
        Task[] tasks = [.. loads.Select(load => Task.Factory.StartNew(() => load.Run(WarmUpSeconds, _options.Seconds * _options.Rounds), CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default))];
        Thread.Sleep(TimeSpan.FromSeconds(WarmUpSeconds));
        TimeSpan cpuBefore = server.Cpu;
        long allocatedBefore = server.AllocatedBytes();
        Task.WaitAll(tasks);
        double seconds = loads.Max(static load => load.Seconds);
        double cpu = (server.Cpu - cpuBefore).TotalSeconds / seconds;
        long allocated = server.AllocatedBytes() - allocatedBefore;
        double rate = loads.Sum(static load => load.Taken / load.Seconds);
        long lost = loads.Sum(static load => load.Lost);
        _table.Add(
            Text($"notifications, {clients} x {items} items at {BenchHost.ChangeMs} ms, oldest {loads.Max(static load => load.OldestMs):F0} ms, {server.MemoryBytes / 1048576.0:F0} MiB"), security,
            Text($"{rate:F0}/s, {lost} lost"), goal: Text($"{Items * 1000 / BenchHost.ChangeMs}/s, 0 lost"), cpuOurs: BenchTable.Figure(cpu * 100, "F1", " %"), allocated: BenchTable.Figure(allocated / (double)loads.Sum(static load => load.Taken), "F2", " B"));
        _results.Add(Text($"{clients} x {items} items {security} {rate:F0}/s, {lost} lost, CPU {cpu:P0}"));
        _failed |= lost > 0;
        foreach (NotificationLoad load in loads)
        {
            load.Dispose();
        }
    }

    private static string LoadAverage() => File.Exists("/proc/loadavg") ? File.ReadAllText("/proc/loadavg").Split(' ')[0] : "unknown";

    private static void Say(FormattableString line) => Console.WriteLine(Text(line));

    private static void Say(string line) => Console.WriteLine(line);

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
