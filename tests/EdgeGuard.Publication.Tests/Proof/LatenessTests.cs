using System.Globalization;
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
            Measure(ring, seconds, figures.Idle);
            figures.StoppedBackMs.Add(HurtAndBack(site, "STOP", () => Measure(ring, seconds, figures.Stopped)));
            figures.FloodedWorstMs.Add(Flooded(site, () => Measure(ring, seconds, figures.Flooded)));
            figures.KilledBackMs.Add(HurtAndBack(site, "KILL", () => Measure(ring, seconds, figures.Killed)));
        }

        figures.Overruns = ring.ReadLive().Overruns;
        if (Environment.GetEnvironmentVariable("EDGEGUARD_LONG_RESULT") is { Length: > 0 } file)
        {
            File.WriteAllText(file, figures.ToString());
        }

        // Every scan ran in every phase; one may fall on each border.
        int scans = rounds * ((seconds * 1000 / ScanMs) - 3);
        Assert.All(figures.Phases, p => Assert.True(p.Value.Count >= scans, $"{p.Key}: {p.Value.Count} scans in {rounds} x {seconds} s"));
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
        }

        long worstMs = honest.End();
        Assert.Equal(publisher, site.Publisher);
        return worstMs;
    }

    // The ring tells the lateness of its last scan; looked at often enough to see each.
    private static void Measure(ScanRingReader ring, int seconds, List<long> lateness)
    {
        const int LookMs = 10;
        long seen = ring.ReadLive().ScansWritten;
        for (long end = Environment.TickCount64 + (seconds * 1000L); Environment.TickCount64 < end; Thread.Sleep(LookMs))
        {
            ScanRingLive live = ring.ReadLive();
            if (live.ScansWritten != seen)
            {
                seen = live.ScansWritten;
                lateness.Add(live.LatenessLastUs);
            }
        }
    }
}
