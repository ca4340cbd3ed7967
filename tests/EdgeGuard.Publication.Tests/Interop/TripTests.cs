using System.Text.Json;
using EdgeGuard.Acceptance.Tests.Rigs;
using EdgeGuard.Publication.Tests.Rigs;

namespace EdgeGuard.Publication.Tests.Interop;

/// <summary>Plant, guard, publisher and the independent client, each a process of its own: the client sees the trip.</summary>
public sealed class TripTests
{
    [Fact]
    public void A_client_sees_the_blower_stop_the_trip_its_cause_and_the_permit_go()
    {
        using var folder = new TestFolder();
        using PlantChild plant = PlantChild.Start(folder, "N-1");
        string site = TestSite.N1(plant.Ports[0]).Quick().Write(folder.File("site"));
        using GuardChild guard = GuardChild.Start(folder, site);
        using var publisher = new PublisherChild(folder, site);
        using var client = new NodeClient(folder.Path);
        JsonElement connected = client.Connect(publisher.Port, retries: 100);
        Assert.True(connected.GetProperty("ok").GetBoolean(), connected.ToString());
        client.Subscribe();
        client.Monitor("ns=2;s=N-1/Permit", queue: 10);
        client.Monitor("ns=2;s=N-1/FLOW/State", queue: 10);
        client.Monitor("ns=2;s=N-1/State", queue: 10);
        guard.StartUnit();
        client.AwaitChange("ns=2;s=N-1/Permit", static e => e.GetProperty("value").ValueKind == JsonValueKind.True);
        plant.Command("fault blower-stop N-1");
        JsonElement tripped = client.AwaitChange("ns=2;s=N-1/State", static e => e.GetProperty("value").GetInt32() == 0);
        Assert.Equal(0u, tripped.GetProperty("status").GetUInt32());
        JsonElement[] now = client.Read("ns=2;s=N-1/FirstOut", "ns=2;s=N-1/Permit", "ns=2;s=N-1/FirstOut/EnumStrings");
        string? cause = now[2].GetProperty("value")[now[0].GetProperty("value").GetInt32()].GetProperty("text").GetString();
        Assert.Equal(("FLOW", JsonValueKind.False), (cause, now[1].GetProperty("value").ValueKind));

        // What the guard counts and announces of it: first trip of FLOW, the alarm of the trip stands and nobody took it.
        JsonElement[] counted = client.Read("ns=2;s=N-1/FLOW/Trips", "ns=2;s=N-1/LastTrip", "ns=2;s=N-1/TripAlarm", "ns=2;s=N-1/use/ForcedCycles", "ns=2;s=/alarms/Total");
        Assert.All(counted, static v => Assert.Equal(0u, v.GetProperty("status").GetUInt32()));
        Assert.Equal((1, 3, 0), (counted[0].GetProperty("value").GetInt32(), counted[1].GetProperty("value").GetInt32(), counted[2].GetProperty("value").GetInt32()));
        Assert.True(counted[4].GetProperty("value").GetInt32() >= 1);

        // The publisher dies at once and comes back: the guard goes on, and the client finds its values again.
        publisher.Kill();
        client.Await("loss of the connection", static e => NodeClient.Is(e, "lost"));
        long before = guard.Await("status", static _ => true).Scan;
        using var again = new PublisherChild(folder, site, publisher.Port);
        client.AwaitChange("ns=2;s=N-1/State", static e => e.GetProperty("status").GetUInt32() == 0);
        Assert.True(guard.Await("further scans", s => s.Scan > before).Scan > before);
    }
}
