using System.Diagnostics;
using System.Globalization;
using System.Net;
using EdgeGuard.Acceptance.Tests.Rigs;
using EdgeGuard.Commands;
using EdgeGuard.Modbus.Server;
using EdgeGuard.Modbus.Transports;
using EdgeGuard.Records.Ring;
using EdgeGuard.Service.Requests;

namespace EdgeGuard.Acceptance.Tests.RealTime;

/// <summary>
/// A guard with a hundred links, each with a controller and a meter, at 100 ms; then ninety of them die, half by falling
/// silent, half by vanishing. The living ten must not notice. The check runs a sample and judges what they read;
/// tests/long links measures lateness and processor time, alone on the machine.
/// </summary>
[Collection("alone")]
[CollectionDefinition("alone", DisableParallelization = true)]
public sealed class HundredLinksTests : IDisposable
{
    private const int Links = 100;
    private const int Living = 10;
    private const int ScanMs = 100;
    private const int StaleMs = 3 * ScanMs;
    private const string AnswerMs = "\"answerMs\": 200";

    private readonly TestFolder _folder = new();
    private readonly TcpModbusServer[] _servers = [.. Enumerable.Range(0, Links).Select(static _ => Server())];

    public void Dispose()
    {
        foreach (TcpModbusServer server in _servers)
        {
            server.Dispose();
        }

        _folder.Dispose();
    }

    [Trait("requirement", "MODB-6")]
    [Trait("requirement", "MODB-9")]
    [Fact]
    public void Ninety_dead_links_leave_the_living_ten_alone()
    {
        bool isLong = int.TryParse(Environment.GetEnvironmentVariable("EDGEGUARD_LONG_SECONDS"), NumberStyles.None, CultureInfo.InvariantCulture, out int seconds);
        seconds = isLong ? seconds : 3;
        using GuardChild guard = GuardChild.Start(_folder, WriteSite(isPatient: !isLong));
        guard.Await("all links up", static s => s.Links.All(static l => l.Online));
        using ScanRingReader ring = guard.OpenRing();
        Figures alive = Measure(guard, ring, seconds);
        Kill();
        guard.Await("ninety links down", static s => s.Links.Skip(Living).All(static l => !l.Online));
        Figures dead = Measure(guard, ring, seconds);
        string figures = $"{Links} links at {ScanMs} ms: {alive}; with {Links - Living} dead: {dead}";
        if (Environment.GetEnvironmentVariable("EDGEGUARD_LONG_RESULT") is { Length: > 0 } file)
        {
            File.WriteAllText(file, figures);
        }

        // A silent device is connected to again and again, and never counts as up before it has answered.
        SiteStatus status = guard.Await("a status", static _ => true);
        Assert.All(status.Links.Take(Living), static l => Assert.Equal((1L, 0L, 0L), (l.Of(LinkFigure.Connects), l.Of(LinkFigure.Losses), l.Of(LinkFigure.FailedReads))));
        Assert.All(status.Links.Skip(Living), static l => Assert.Equal((false, l.Of(LinkFigure.Connects)), (l.Online, l.Of(LinkFigure.Losses))));
        Assert.All(status.Units.Skip(Living), static u => Assert.Contains(u.Functions, static f => f.Function == "COMM" && f.State == "Demand"));
        guard.Await("good readings of the living ten", static s => Readings(s).All(static r => r.Good));
        Assert.True(!isLong || dead.NotGood == 0, figures);
        Assert.True(!isLong || dead.OldestMs <= StaleMs, figures);
        Assert.Equal(ExitCode.Good, guard.Terminate());
    }

    private static TcpModbusServer Server()
    {
        var devices = new Dictionary<byte, IModbusDevice> { [1] = StillDevice.Controller(), [2] = StillDevice.Meter() };
        var server = new TcpModbusServer(new IPEndPoint(IPAddress.Loopback, 0), devices);
        server.Start();
        return server;
    }

    private void Kill()
    {
        for (int i = Living; i < Links; i++)
        {
            if (i % 2 == 0)
            {
                _servers[i].Silent = true;
            }
            else
            {
                _servers[i].Dispose();
            }
        }
    }

    // In the check a busy machine may hold an answer up; a long run has the machine to itself.
    private string WriteSite(bool isPatient)
    {
        string site = _folder.File("site");
        InitCommand.Run(site, Links, TextWriter.Null, TextWriter.Null);
        string file = Path.Combine(site, "site.json");
        string text = File.ReadAllText(file);
        for (int i = 0; i < Links; i++)
        {
            string link = $"\"name\": \"h{i + 1}\", \"host\": \"127.0.0.1\", \"port\": ";
            Assert.Contains(link + (15_020 + i), text, StringComparison.Ordinal);
            text = text.Replace(link + (15_020 + i), link + _servers[i].Port, StringComparison.Ordinal);
        }

        Assert.Contains(AnswerMs, text, StringComparison.Ordinal);
        File.WriteAllText(file, isPatient ? text.Replace(AnswerMs, "\"answerMs\": 900", StringComparison.Ordinal) : text);
        return site;
    }

    // The ring tells the lateness of its last scan; looked at often enough to see each. The status is asked once a second.
    private static Figures Measure(GuardChild guard, ScanRingReader ring, int seconds)
    {
        var lateness = new List<long>();
        int oldest = 0;
        int notGood = 0;
        long seen = ring.ReadLive().ScansWritten;
        TimeSpan cpu = CpuOf(guard.Id);
        var watch = Stopwatch.StartNew();
        for (long nextStatus = 1_000; watch.ElapsedMilliseconds < seconds * 1_000L; Thread.Sleep(10))
        {
            ScanRingLive live = ring.ReadLive();
            if (live.ScansWritten != seen)
            {
                seen = live.ScansWritten;
                lateness.Add(live.LatenessLastUs);
            }

            if (watch.ElapsedMilliseconds >= nextStatus && guard.TryStatus() is { } status)
            {
                nextStatus += 1_000;
                SignalStatus[] signals = [.. Readings(status)];
                oldest = Math.Max(oldest, signals.Max(static s => s.AgeMs));
                notGood += signals.Count(static s => !s.Good);
            }
        }

        double percent = 100 * (CpuOf(guard.Id) - cpu).TotalMilliseconds / watch.Elapsed.TotalMilliseconds;
        return new Figures([.. lateness.Order()], percent, oldest, notGood);
    }

    // Without what the cabinet does not have.
    private static IEnumerable<SignalStatus> Readings(SiteStatus status) => status.Units.Take(Living).SelectMany(static u => u.Signals).Where(static s => s.Status != "808A0000");

    private static TimeSpan CpuOf(int id)
    {
        using Process process = Process.GetProcessById(id);
        return process.TotalProcessorTime;
    }

    private sealed record Figures(long[] LatenessUs, double CpuPercent, int OldestMs, int NotGood)
    {
        public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"lateness p50 {At(0.5)} us, p99 {At(0.99)} us, p99.9 {At(0.999)} us, max {LatenessUs[^1]} us ({LatenessUs.Length} scans), {CpuPercent:F1} % of a core, oldest reading of the first {Living} {OldestMs} ms, {NotGood} not good");

        private long At(double share) => LatenessUs[(int)Math.Ceiling(LatenessUs.Length * share) - 1];
    }
}
