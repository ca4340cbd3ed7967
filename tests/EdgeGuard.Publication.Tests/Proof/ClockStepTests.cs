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
        int before = Count(client, 3_000, 0, out _);
        guard.Await("first scan", static s => s.Scan > 0);

        // Written whole and moved into place, so that neither process reads half a line.
        File.WriteAllText(clock + ".new", step + "\n");
        File.Move(clock + ".new", clock, overwrite: true);
        int after = Count(client, 3_000, stepMs, out int stepped);
        Assert.True(stepped > 10, $"only {stepped} readings carry the new time: the clock of the processes was not moved");

        // Ten scans a second; a load from outside may hold some up, a step that stopped publishing would leave none.
        Assert.InRange(before, 20, 40);
        Assert.InRange(after, 20, 40);
        Assert.Equal(0u, client.Read(Outlet)[0].GetProperty("status").GetUInt32());
        client.Events.ToArray().Where(static e => NodeClient.Is(e, "lost")).ToList().ForEach(static e => Assert.Fail($"{e}"));
    }

    // Notifications of so many ms, all of them good and with a source stamp that is not in the future of the server.
    private static int Count(NodeClient client, int ms, long stepMs, out int stepped)
    {
        (int count, stepped) = (0, 0);
        for (long end = Environment.TickCount64 + ms; Environment.TickCount64 < end;)
        {
            if (!client.Events.TryTake(out JsonElement e, 50) || !NodeClient.Is(e, "change"))
            {
                continue;
            }

            count++;
            Assert.Equal(0u, e.GetProperty("status").GetUInt32());
            Assert.True(e.GetProperty("source").GetInt64() <= e.GetProperty("server").GetInt64(), e.ToString());
            stepped += Math.Abs(e.GetProperty("server").GetInt64() - RingRig.Utc() - stepMs) < HourMs / 2 && Math.Abs(e.GetProperty("source").GetInt64() - RingRig.Utc() - stepMs) < HourMs / 2 ? 1 : 0;
        }

        return count;
    }

    private static string[] Faked(string clock)
    {
        string? library = Directory.Exists("/usr/lib") ? Directory.EnumerateDirectories("/usr/lib", "*-linux-gnu*").Select(static d => Path.Combine(d, "faketime", "libfaketime.so.1")).FirstOrDefault(File.Exists) : null;
        Assert.True(library is not null, "libfaketime is missing: run tests/tools/install-tshark");
        return ["LD_PRELOAD=" + library, "FAKETIME_TIMESTAMP_FILE=" + clock, "FAKETIME_NO_CACHE=1", "DONT_FAKE_MONOTONIC=1", "FAKETIME_DONT_FAKE_MONOTONIC=1"];
    }
}
