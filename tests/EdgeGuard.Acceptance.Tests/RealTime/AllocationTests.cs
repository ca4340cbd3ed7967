using System.Globalization;
using System.Net;
using System.Net.Sockets;
using EdgeGuard.Acceptance.Tests.Rigs;
using EdgeGuard.Records.Ring;
using EdgeGuard.Service.Requests;

namespace EdgeGuard.Acceptance.Tests.RealTime;

/// <summary>
/// A guard that heats in real time allocates nothing in a minute of 600 scans, by two figures: the gauge in the ring,
/// which costs the guard nothing to read but moves only when a thread takes a new piece of heap (8 KB), and the exact
/// count of the latest minute that the guard keeps itself. It keeps a publisher meanwhile, as a guard in service does.
/// Entries of the journal may allocate (a scan that a loaded machine held up is one), and lines of the publisher too, so
/// what counts is a stretch in which nothing was written. How long one takes to come says something of the machine and
/// nothing of the guard: where none comes, 600 scans in quiet seconds are judged by the gauge alone, which still finds
/// 14 bytes a scan.
/// </summary>
public sealed class AllocationTests
{
    // The guard samples every ten seconds: a whole minute lies between two samples that follow the last question.
    private const int QuietMs = 72_000;
    private const int PatienceMs = 4 * QuietMs;
    private const int Scans = 600;

    // The shipped binary is compiled beforehand. In the one that is run here each method would be compiled a second time at its
    // thirtieth call, in the background, which allocates: for what runs once a second or a minute that is within the minute watched.
    private const string OneTier = "DOTNET_TieredCompilation=0";

    [Trait("requirement", "ALLO-1")]
    [Fact]
    public void A_minute_of_heating_with_a_kept_publisher_allocates_nothing()
    {
        using var folder = new TestFolder();
        using var plant = PlantChild.Start(folder, "N-1");
        // A patient link: a time-out of a loaded machine would be a loss with entries and a reconnect.
        string site = TestSite.N1(plant.Ports[0]).Quick().Patient()
            .With("\"scanMs\": 100,", string.Create(CultureInfo.InvariantCulture, $"\"scanMs\": 100, \"publication\": {{ \"enabled\": true, \"port\": {FreePort()} }},"))
            .Write(folder.File("site"));
        using var guard = GuardChild.Start(folder, site, OneTier);
        guard.StartUnit();
        plant.Await("power flows", static t => t.PowerKw > 1.0);
        Assert.True(SpinWait.SpinUntil(() => PublisherLines(folder).Any(static l => l.EndsWith("guard: Live", StringComparison.Ordinal)), 120_000), "the publisher does not see the guard");
        using ScanRingReader ring = guard.OpenRing();
        var quiet = new QuietStretch(() => Written(folder, guard), ring);
        bool whole = quiet.Await(QuietMs, PatienceMs);

        SiteStatus status = guard.Await("a status", static _ => true);
        Assert.Equal("Heating", GuardChild.StateOf(status));
        if (whole)
        {
            Assert.InRange(quiet.Scans, Scans, 750);
            Assert.Equal(0, quiet.Bytes);
            Assert.Equal(0, status.Loop.AllocatedLastMinuteBytes);
        }
        else
        {
            IEnumerable<string> kinds = JournalLines.LastRun(guard.Data).CountBy(static r => r["event"] ?? "").Select(static k => $"{k.Key} {k.Value}");
            Assert.True(quiet.PieceScans >= Scans, $"only {quiet.PieceScans} scans in quiet seconds within {PatienceMs} ms ({MachineLoad.Now()}); entries: {string.Join(", ", kinds)}");
            Assert.Equal(0, quiet.PieceBytes);
        }
    }

    private static int Written(TestFolder folder, GuardChild guard) => JournalLines.Read(guard.Data).Count + PublisherLines(folder).Length;

    private static string[] PublisherLines(TestFolder folder) =>
        [.. folder.ReadShared("guard.log").Split('\n').Where(static l => l.Contains(" publisher: ", StringComparison.Ordinal)).Select(static l => l.TrimEnd())];

    private static int FreePort()
    {
        using var socket = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        socket.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        return ((IPEndPoint)socket.LocalEndPoint!).Port;
    }
}
