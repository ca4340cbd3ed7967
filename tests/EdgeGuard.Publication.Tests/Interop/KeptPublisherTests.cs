using System.Globalization;
using EdgeGuard.Acceptance.Tests.Rigs;
using EdgeGuard.Publication.Tests.Rigs;
using EdgeGuard.Records.Journal;
using EdgeGuard.Service.Requests;

namespace EdgeGuard.Publication.Tests.Interop;

/// <summary>The guard and the publisher it starts, as real processes that are killed.</summary>
public sealed class KeptPublisherTests
{
    private const int PatienceMs = 60_000;
    private const int Kills = 3;

    [Fact]
    public void A_killed_publisher_is_back_within_two_seconds_and_the_scans_go_on()
    {
        using var folder = new TestFolder();
        using var plant = PlantChild.Start(folder, "N-1");
        int port = TcpHello.FreePort();
        using var guard = GuardChild.Start(folder, KeptSite.Write(folder, plant, port));
        TcpHello.AwaitAnswer(port, PatienceMs);
        var backMs = new List<long>();
        SiteStatus before = guard.Await("a status", static _ => true);
        long start = Environment.TickCount64;
        for (int kill = 0; kill < Kills; kill++)
        {
            KeptSite.Signal("KILL", KeptSite.PublisherOf(guard, kill));
            TcpHello.AwaitSilence(port, PatienceMs);
            backMs.Add(TcpHello.AwaitAnswer(port, PatienceMs));
        }

        SiteStatus after = guard.Await("a status", static _ => true);
        long expected = (Environment.TickCount64 - start) / before.ScanMs;

        // The quickest of some, since what slows a start on a loaded machine is not the guard.
        Assert.InRange(backMs.Min(), 0, 2_000);
        Assert.InRange(after.Loop.Scans - before.Loop.Scans, expected - 3, expected + 3);
        Assert.Equal(before.Loop.Skipped, after.Loop.Skipped);
        using var client = new NodeClient(folder.Path);
        Assert.True(client.Connect(port).GetProperty("ok").GetBoolean());
        Assert.Equal(0u, client.Read("ns=2;s=N-1/State")[0].GetProperty("status").GetUInt32());
    }

    [Fact]
    public void A_publisher_that_is_stopped_is_replaced()
    {
        using var folder = new TestFolder();
        using var plant = PlantChild.Start(folder, "N-1");
        int port = TcpHello.FreePort();
        using var guard = GuardChild.Start(folder, KeptSite.Write(folder, plant, port));
        TcpHello.AwaitAnswer(port, PatienceMs);
        KeptSite.Signal("STOP", KeptSite.PublisherOf(guard, 0));
        AwaitEntry(guard, "publisher-silent");
        AwaitEntry(guard, "publisher-restarted");
        TcpHello.AwaitAnswer(port, PatienceMs);
    }

    [Theory]
    [InlineData("KILL")]
    [InlineData("STOP")]
    public void With_the_guard_killed_its_publisher_ends_even_a_stopped_one(string first)
    {
        using var folder = new TestFolder();
        using var plant = PlantChild.Start(folder, "N-1");
        int port = TcpHello.FreePort();
        using var guard = GuardChild.Start(folder, KeptSite.Write(folder, plant, port));
        TcpHello.AwaitAnswer(port, PatienceMs);
        int publisher = KeptSite.PublisherOf(guard, 0);
        if (first == "STOP")
        {
            KeptSite.Signal(first, publisher);
        }

        guard.Kill();
        Assert.True(SpinWait.SpinUntil(() => !IsAlive(publisher), 5_000), "the publisher outlived the guard that started it");
    }

    [Fact]
    public void A_guard_that_is_stopped_ends_its_publisher_in_order_and_writes_it_down()
    {
        using var folder = new TestFolder();
        using var plant = PlantChild.Start(folder, "N-1");
        int port = TcpHello.FreePort();
        using var guard = GuardChild.Start(folder, KeptSite.Write(folder, plant, port));
        TcpHello.AwaitAnswer(port, PatienceMs);
        int publisher = KeptSite.PublisherOf(guard, 0);

        // 512 MiB unless stated, three quarters of it for the heap, hexadecimal (0x18000000 = 384 MiB).
        Assert.Contains("DOTNET_GCHeapHardLimit=18000000\0", File.ReadAllText($"/proc/{publisher}/environ"), StringComparison.Ordinal);
        Assert.Equal(0, guard.Terminate());
        Assert.False(IsAlive(publisher));
        IReadOnlyList<JournalRecord> run = JournalLines.LastRun(guard.Data);
        Assert.Equal("exit code 0", run.Single(static r => r["event"] == "publisher-ended")["text"]);
        Assert.Equal("clean-stop", run[^1]["event"]);
    }

    private static void AwaitEntry(GuardChild guard, string name) =>
        Assert.True(SpinWait.SpinUntil(() => JournalLines.Read(guard.Data).Any(r => r["event"] == name), PatienceMs), $"no {name} in the journal");

    // One that has ended but was not waited for by its parent is dead too (state Z of proc_pid_stat(5)).
    private static bool IsAlive(int process)
    {
        try
        {
            string stat = File.ReadAllText(string.Create(CultureInfo.InvariantCulture, $"/proc/{process}/stat"));
            return stat[stat.LastIndexOf(')') + 2] is not ('Z' or 'X');
        }
        catch (IOException)
        {
            return false;
        }
    }
}
