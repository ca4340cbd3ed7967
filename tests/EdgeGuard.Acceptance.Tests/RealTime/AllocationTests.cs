using EdgeGuard.Acceptance.Tests.Rigs;
using EdgeGuard.Records.Ring;
using EdgeGuard.Service.Requests;

namespace EdgeGuard.Acceptance.Tests.RealTime;

/// <summary>
/// A guard that heats in real time allocates nothing in a minute of 600 scans, by two figures: the gauge in the ring,
/// which costs the guard nothing to read but moves only when a thread takes a new piece of heap, and the exact count of
/// the latest minute that the guard keeps itself. Entries of the journal may allocate (a scan that a loaded machine
/// held up is one), so what counts is a minute in which nothing was written.
/// </summary>
public sealed class AllocationTests
{
    // The guard samples every ten seconds: a whole minute lies between two samples that follow the last question.
    private const int WindowMs = 72_000;
    private const int Attempts = 4;

    [Trait("requirement", "ALLO-1")]
    [Fact]
    public void A_minute_of_heating_allocates_nothing()
    {
        using var folder = new TestFolder();
        using var plant = PlantChild.Start(folder, "N-1");
        // A patient link: a time-out of a loaded machine would be a loss with entries and a reconnect.
        string site = TestSite.N1(plant.Ports[0]).Quick()
            .With("\"host\": \"127.0.0.1\",", "\"host\": \"127.0.0.1\", \"answerMs\": 900,")
            .With("\"setpointC\": 650", "\"setpointC\": 650, \"comm\": { \"limitMs\": 2000 }, \"sens\": { \"staleMs\": 1000 }")
            .Write(folder.File("site"));
        using var guard = GuardChild.Start(folder, site);
        guard.StartUnit();
        plant.Await("power flows", static t => t.PowerKw > 1.0);
        using ScanRingReader ring = guard.OpenRing();
        for (int i = 0; i < Attempts; i++)
        {
            if (MeasureQuietMinute(guard, ring))
            {
                return;
            }
        }

        Assert.Fail($"in {Attempts} attempts there was no minute without an entry in the journal; is the machine overloaded?");
    }

    private static bool MeasureQuietMinute(GuardChild guard, ScanRingReader ring)
    {
        Thread.Sleep(1_000);
        int entries = JournalLines.Read(guard.Data).Count;
        ScanRingLive before = ring.ReadLive();
        Thread.Sleep(WindowMs);
        ScanRingLive after = ring.ReadLive();
        SiteStatus status = guard.Await("a status", static _ => true);
        Assert.Equal("Heating", GuardChild.StateOf(status));
        if (JournalLines.Read(guard.Data).Count != entries)
        {
            return false;
        }

        Assert.InRange(after.ScansWritten - before.ScansWritten, 600, 740);
        Assert.Equal(0, after.AllocatedBytes - before.AllocatedBytes);
        Assert.Equal(0, status.Loop.AllocatedLastMinuteBytes);
        return true;
    }
}
