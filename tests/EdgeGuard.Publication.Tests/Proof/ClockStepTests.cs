using System.Text.Json;
using EdgeGuard.Acceptance.Tests.Rigs;
using EdgeGuard.Publication.Tests.Rigs;

namespace EdgeGuard.Publication.Tests.Proof;

/// <summary>
/// Point 14 over the real processes: the wall clock of guard and publisher is moved by an hour while a client is
/// subscribed. libfaketime moves CLOCK_REALTIME of both alone; the monotonic clock, the plant and the client stay as they
/// are, as they do when somebody sets the time of a machine.
/// </summary>
public sealed class ClockStepTests
{
    private const string Outlet = "ns=2;s=N-1/OutletTemperature";
    private const long HourMs = 3_600_000;
    private const int Readings = 30;
    private const int LeastMs = Readings * 100 / 2;
    private const int PatienceMs = 60_000;

    [Theory]
    [InlineData("+3600", HourMs)]
    [InlineData("-3600", -HourMs)]
    public void Point_14_a_step_of_the_machines_clock_by_an_hour_leaves_publishing_as_it_was(string step, long stepMs)
    {
        using var folder = new TestFolder();
        string clock = folder.File("clock");
        File.WriteAllText(clock, "+0\n");
        string[] environment = Faked(clock);
        using PlantChild plant = PlantChild.Start(folder, "N-1");
        string site = TestSite.N1(plant.Ports[0]).Quick().Write(folder.File("site"));
        using GuardChild guard = GuardChild.Start(folder, site, environment);
        using var publisher = new PublisherChild(folder, site, environment);
        using var client = new NodeClient(folder.Path);
        JsonElement connected = client.Connect(publisher.Port);
        Assert.True(connected.GetProperty("ok").GetBoolean(), connected.ToString());
        client.Subscribe();
        client.Monitor(Outlet, queue: 100, stamps: true);
        long beforeMs = TimeOf(client, 0, out _);
        guard.Await("first scan", static s => s.Scan > 0);

        // Written whole and moved into place, so that neither process reads half a line.
        File.WriteAllText(clock + ".new", step + "\n");
        File.Move(clock + ".new", clock, overwrite: true);
        long afterMs = TimeOf(client, stepMs, out int stepped);
        Assert.True(stepped > Readings / 3, $"only {stepped} readings carry the new time: the clock of the processes was not moved");

        // Ten scans a second: they go on, which is waited for however busy the machine is, and they are not rushed through.
        Assert.InRange(beforeMs, LeastMs, PatienceMs);
        Assert.InRange(afterMs, LeastMs, PatienceMs);
        Assert.Equal(0u, client.Read(Outlet)[0].GetProperty("status").GetUInt32());
        client.Events.ToArray().Where(static e => NodeClient.Is(e, "lost")).ToList().ForEach(static e => Assert.Fail($"{e}"));
    }

    // How long so many notifications take, all of them good and with a source stamp that is not in the future of the server; those that wait already do not count.
    private static long TimeOf(NodeClient client, long stepMs, out int stepped)
    {
        stepped = 0;
        while (client.Events.TryTake(out _))
        {
        }

        long start = Environment.TickCount64;
        for (int count = 0; count < Readings; count++)
        {
            JsonElement e = client.AwaitChange(Outlet, static _ => true);
            Assert.Equal(0u, e.GetProperty("status").GetUInt32());
            Assert.True(e.GetProperty("source").GetInt64() <= e.GetProperty("server").GetInt64(), e.ToString());
            stepped += Math.Abs(e.GetProperty("server").GetInt64() - RingRig.Utc() - stepMs) < HourMs / 2 && Math.Abs(e.GetProperty("source").GetInt64() - RingRig.Utc() - stepMs) < HourMs / 2 ? 1 : 0;
        }

        return Environment.TickCount64 - start;
    }

    private static string[] Faked(string clock)
    {
        string? library = Directory.Exists("/usr/lib") ? Directory.EnumerateDirectories("/usr/lib", "*-linux-gnu*").Select(static d => Path.Combine(d, "faketime", "libfaketime.so.1")).FirstOrDefault(File.Exists) : null;
        Assert.True(library is not null, "libfaketime is missing: run tests/tools/install-tshark");
        return ["LD_PRELOAD=" + library, "FAKETIME_TIMESTAMP_FILE=" + clock, "FAKETIME_NO_CACHE=1", "DONT_FAKE_MONOTONIC=1", "FAKETIME_DONT_FAKE_MONOTONIC=1"];
    }
}
