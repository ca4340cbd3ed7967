using System.Text.Json;
using EdgeGuard.Acceptance.Tests.Rigs;
using EdgeGuard.Publication.Tests.Rigs;

namespace EdgeGuard.Publication.Tests.Proof;

/// <summary>
/// Point 15 over the real processes: plant, guard, publisher and the independent client. The cable is pulled once so that
/// connections break (link-drop) and once so that nothing answers any more (link-silent).
/// </summary>
public sealed class LinkPulledTests
{
    private const string Outlet = "ns=2;s=N-1/OutletTemperature";
    private const int StaleMs = 300;
    private const int HoldMs = 3000;

    // Codes of OPC 10000-6, StatusCode.csv.
    private const uint LastUsable = 0x408F0000;
    private const uint NoCommunication = 0x80310000;

    [Theory]
    [InlineData("link-drop")]
    [InlineData("link-silent")]
    public void Point_15_a_pulled_link_goes_from_good_to_last_usable_to_no_communication_and_back(string fault)
    {
        using var folder = new TestFolder();
        using PlantChild plant = PlantChild.Start(folder, "N-1");
        string site = TestSite.N1(plant.Ports[0]).Quick().With("\"setpointC\": 650", $"\"setpointC\": 650, \"sens\": {{ \"holdMs\": {HoldMs} }}").Write(folder.File("site"));
        using GuardChild guard = GuardChild.Start(folder, site);
        using var publisher = new PublisherChild(folder, site);
        using var client = new NodeClient(folder.Path);
        JsonElement connected = client.Connect(publisher.Port);
        Assert.True(connected.GetProperty("ok").GetBoolean(), connected.ToString());
        client.Subscribe();
        client.Monitor(Outlet, queue: 100, stamps: true);
        client.AwaitChange(Outlet, static e => Status(e) == 0);
        plant.Command($"fault {fault} N-1");
        (JsonElement good, JsonElement late, JsonElement lost) = AwaitLoss(client);

        // The value and the moment of the device read are those of the last good notification.
        Assert.Equal((good.GetProperty("value").GetDouble(), LastUsable), (late.GetProperty("value").GetDouble(), Status(late)));
        Assert.Equal(good.GetProperty("source").GetInt64(), late.GetProperty("source").GetInt64());
        Assert.True(late.GetProperty("server").GetInt64() >= late.GetProperty("source").GetInt64() + StaleMs, late.ToString());

        Assert.Equal((NoCommunication, JsonValueKind.Null), (Status(lost), lost.GetProperty("value").ValueKind));
        long held = lost.GetProperty("source").GetInt64() - late.GetProperty("source").GetInt64();
        Assert.True(held >= HoldMs, $"given up {held} ms after the last reading, before its hold time");
        Assert.Equal(NoCommunication, client.Read(Outlet)[0].GetProperty("status").GetUInt32());

        // The counters of the link say why: a dropped connection is down, a silent one has run into its time limit.
        JsonElement[] link = client.Read("ns=2;s=/links/n1/State", "ns=2;s=/links/n1/Losses", "ns=2;s=/links/n1/Timeouts");
        Assert.True(fault == "link-drop" ? link[0].GetProperty("value").ValueKind == JsonValueKind.False && Count(link[1]) > 0 : Count(link[2]) > 0, string.Join(' ', link));

        plant.Command($"clear {fault} N-1");
        JsonElement back = client.AwaitChange(Outlet, static e => Status(e) != NoCommunication);
        Assert.Equal((0u, JsonValueKind.Number), (Status(back), back.GetProperty("value").ValueKind));
        Assert.True(back.GetProperty("source").GetInt64() > lost.GetProperty("source").GetInt64());
        Assert.True(client.Read("ns=2;s=/links/n1/State")[0].GetProperty("value").GetBoolean());
        Assert.True(guard.TryStatus() is not null);
    }

    // The last good notification, the one that follows it, and the first after it that is given up. A busy machine may hold a
    // reading up before the cable is pulled: then good ones follow, and what was late belongs to them.
    private static (JsonElement Good, JsonElement Late, JsonElement Lost) AwaitLoss(NodeClient client)
    {
        JsonElement good = default;
        JsonElement late = default;
        JsonElement lost = client.AwaitChange(Outlet, e =>
        {
            (good, late) = Status(e) == 0 ? (e, default) : (good, late.ValueKind == JsonValueKind.Undefined ? e : late);
            return Status(e) is not (0 or LastUsable) && good.ValueKind == JsonValueKind.Object;
        });
        return (good, late, lost);
    }

    private static int Count(JsonElement value) => value.GetProperty("value").GetInt32();

    private static uint Status(JsonElement e) => e.GetProperty("status").GetUInt32();
}
