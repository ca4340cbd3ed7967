using System.Globalization;
using EdgeGuard.Acceptance.Tests.Rigs;
using EdgeGuard.Publication.Tests.Rigs;
using EdgeGuard.Records.Ring;

namespace EdgeGuard.Publication.Tests.Proof;

/// <summary>
/// How late the guard's scans begin, read from its ring, while the publisher it keeps idles, is stopped, is flooded and is
/// killed, in rounds, so that what else goes on in the machine meets every phase alike. Whatever happens to the publisher,
/// every scan runs, and a client that stays is served all through the flood. The check runs a sample; tests/long opcua-lateness
/// measures and judges the 99th percentile, how soon a client reads a fresh value after a stop and after a kill, and how long it
/// waits for one in the flood. Alone, without other tests beside it.
/// </summary>
[Collection("lateness")]
[CollectionDefinition("lateness", DisableParallelization = true)]
public sealed class LatenessTests
{
    private const int ScanMs = 100;
    private const int PatienceMs = 60_000;

    // A publisher that ends earlier is given a longer rest before the next start.
    private const int LongPhaseSeconds = 12;

    [Trait("requirement", "PUBL-1")]
    [Fact]
    public void Scans_begin_in_time_whatever_happens_to_the_publisher()
    {
        bool isLong = Environment.GetEnvironmentVariable("EDGEGUARD_LONG_SECONDS") is { Length: > 0 };
        int seconds = isLong ? LongPhaseSeconds : 2;
        int rounds = isLong ? int.Parse(Environment.GetEnvironmentVariable("EDGEGUARD_LONG_SECONDS")!, CultureInfo.InvariantCulture) / LongPhaseSeconds : 1;
        using var site = new KeptSite();
        using ScanRingReader ring = site.Guard.OpenRing();
        var figures = new LatenessFigures();
        Thread.Sleep(1_000);
        for (int round = 0; round < rounds; round++)
        {
            Measure(site.Guard, ring, seconds, figures.Idle);
            figures.StoppedBackMs.Add(HurtAndBack(site, "STOP", () => Measure(site.Guard, ring, seconds, figures.Stopped)));
            figures.FloodedWorstMs.Add(Flooded(site, () => Measure(site.Guard, ring, seconds, figures.Flooded)));
            figures.KilledBackMs.Add(HurtAndBack(site, "KILL", () => Measure(site.Guard, ring, seconds, figures.Killed)));
        }

        figures.Overruns = ring.ReadLive().Overruns;
        if (Environment.GetEnvironmentVariable("EDGEGUARD_LONG_RESULT") is { Length: > 0 } file)
        {
            File.WriteAllText(file, figures.ToString());
        }

        Assert.All(figures.Phases, static p => Assert.True(p.Value.Count > 0, $"{p.Key}: no scan was seen"));
        Assert.True(figures.AreGood || !isLong, figures.ToString());
    }

    // The wait for the return runs beside the measurement, so that the start of the new publisher is measured.
    private static long HurtAndBack(KeptSite site, string signal, Action measure)
    {
        site.Signal(signal);
        Task<long> back = Task.Factory.StartNew(() => FreshValue.Await(site.Port, PatienceMs), CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default);
        measure();
        return back.GetAwaiter().GetResult();
    }

    // Under a flood the publisher is never gone: one and the same session of an honest client is served all along. Its slowest answer or oldest value, ms.
    private static long Flooded(KeptSite site, Action measure)
    {
        int publisher = site.Publisher;
        using var honest = new HonestReader(site.Port);
        using (new Flood(site.Port))
        {
            measure();
            honest.AwaitServed();
        }

        long worstMs = honest.End();
        Assert.Equal(publisher, site.Publisher);
        return worstMs;
    }

    // The ring tells the lateness of its last scan; looked at often enough to see each, where the machine lets this thread look. By
    // their number every scan has run, but for the time its thread waited for a processor; what is late at the end is made up at once.
    private static void Measure(GuardChild guard, ScanRingReader ring, int seconds, List<long> lateness)
    {
        const int LookMs = 10;
        const int BorderScans = 3;
        const int MadeUpMs = 2_000;
        const string ScanThread = "scan";
        long waitedMs = ProcessorWait.OfThreadMs(guard.Id, ScanThread);
        long startMs = Environment.TickCount64;
        long first = ring.ReadLive().ScansWritten;
        long seen = first;
        for (long end = startMs + (seconds * 1000L); Environment.TickCount64 < end; Thread.Sleep(LookMs))
        {
            ScanRingLive live = ring.ReadLive();
            if (live.ScansWritten != seen)
            {
                seen = live.ScansWritten;
                lateness.Add(live.LatenessLastUs);
            }
        }

        long lastedMs = Environment.TickCount64 - startMs;
        waitedMs = ProcessorWait.OfThreadMs(guard.Id, ScanThread) - waitedMs;
        long expected = ((lastedMs - waitedMs) / ScanMs) - BorderScans;
        bool ran = SpinWait.SpinUntil(() => ring.ReadLive().ScansWritten - first >= expected, MadeUpMs);
        Assert.True(ran, $"{ring.ReadLive().ScansWritten - first} scans in {lastedMs} ms; their thread waited {waitedMs} ms for a processor ({MachineLoad.Now()})");
    }
}
