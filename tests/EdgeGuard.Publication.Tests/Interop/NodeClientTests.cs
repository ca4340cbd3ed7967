using System.Text.Json;
using System.Text.Json.Nodes;
using EdgeGuard.Core.Signals;
using EdgeGuard.Publication.Tests.Rigs;
using CoreStatus = EdgeGuard.Core.Signals.StatusCode;

namespace EdgeGuard.Publication.Tests.Interop;

/// <summary>An independent client (npm node-opcua-client) against the publisher over real sockets, with a ring the test writes.</summary>
public sealed class NodeClientTests : IDisposable
{
    private const string Outlet = "ns=2;s=N-1/OutletTemperature";
    private readonly RingRig _ring = new();
    private readonly NodeClient _client;

    public NodeClientTests()
    {
        _ring.Start();
        _ring.Scan();
        _client = new NodeClient(_ring.Folder);
    }

    [Fact]
    public void It_discovers_browses_everything_and_reads_every_attribute_without_an_error()
    {
        using PublicationHost host = HostRig.Start(_ring);
        JsonElement found = _client.Ask(new JsonObject { ["cmd"] = "endpoints", ["url"] = $"opc.tcp://localhost:{host.Port}" });
        JsonElement endpoint = Assert.Single(found.GetProperty("endpoints").EnumerateArray());
        Assert.Equal($"opc.tcp://localhost:{host.Port}", endpoint.GetProperty("url").GetString());
        Connect(host);
        JsonElement space = _client.Ask(new JsonObject { ["cmd"] = "browse" });
        Assert.Empty(space.GetProperty("errors").EnumerateArray());
        Assert.True(space.GetProperty("nodes").GetInt32() > 4000, space.GetProperty("nodes").ToString());
        JsonNode?[] own = [.. space.GetProperty("own").EnumerateArray().Select(static n => JsonValue.Create(n.GetString()))];
        Assert.True(own.Length > 200);
        JsonElement attributes = _client.Ask(new JsonObject { ["cmd"] = "attributes", ["nodes"] = new JsonArray(own) });
        Assert.Empty(attributes.GetProperty("errors").EnumerateArray());
    }

    [Fact]
    public void It_reads_values_units_and_ranges()
    {
        using PublicationHost host = HostRig.Start(_ring);
        Connect(host);
        AwaitValue(Outlet, 101);
        JsonElement[] values = _client.Read(Outlet, Outlet + "/EngineeringUnits", Outlet + "/EURange", "ns=2;s=N-1/Relay", "ns=2;s=N-1/State", "ns=2;s=N-1/State/EnumStrings", "i=2255", "i=2269");
        Assert.Equal(101, values[0].GetProperty("value").GetDouble());

        // UNECE Recommendation 20, common code CEL read as a big-endian number (OPC 10000-8, 5.6.4.4).
        Assert.Equal(4408652, values[1].GetProperty("value").GetProperty("unitId").GetInt32());
        Assert.Equal((-50.0, 1000.0), (values[2].GetProperty("value").GetProperty("low").GetDouble(), values[2].GetProperty("value").GetProperty("high").GetDouble()));
        Assert.True(values[3].GetProperty("value").GetBoolean());
        Assert.Equal(0, values[4].GetProperty("value").GetInt32());
        Assert.Equal(8, values[5].GetProperty("value").GetArrayLength());
        Assert.Equal("http://opcfoundation.org/UA/", values[6].GetProperty("value")[0].GetString());

        // ServerProfileArray (NodeIds.csv: Server_ServerCapabilities_ServerProfileArray).
        Assert.Equal("http://opcfoundation.org/UA-Profile/Server/EmbeddedUA2017", values[7].GetProperty("value")[0].GetString());
    }

    [Fact]
    public void It_reads_parts_of_arrays_and_of_texts()
    {
        using PublicationHost host = HostRig.Start(_ring);
        Connect(host);
        JsonElement whole = _client.Read("i=2255")[0].GetProperty("value");
        Assert.Equal([whole[1].GetString()], Part("1", "i=2255").GetProperty("value").EnumerateArray().Select(static e => e.GetString()));
        Assert.Equal(whole.GetArrayLength(), Part("0:9", "i=2255").GetProperty("value").GetArrayLength());
        Assert.Equal("BadIndexRangeNoData", Part("7", "i=2255").GetProperty("name").GetString());
        Assert.Equal("urn:", Part("0:3", "i=2262").GetProperty("value").GetString());
    }

    private JsonElement Part(string range, string node) => _client.Ask(new JsonObject { ["cmd"] = "read", ["nodes"] = new JsonArray(node), ["range"] = range }).GetProperty("values")[0];

    [Fact]
    public void It_sees_every_change_with_its_stamp_and_quality()
    {
        using PublicationHost host = HostRig.Start(_ring);
        Connect(host);
        AwaitValue(Outlet, 101);
        _client.Subscribe(intervalMs: 200);
        _client.Monitor(Outlet, queue: 100);
        _client.AwaitChange(Outlet, static e => e.GetProperty("value").GetDouble() == 101);
        long stamp = RingRig.Utc() - 40;
        for (int i = 1; i <= 30; i++)
        {
            _ring.SetSignal(0, SignalRole.OutletTemperature, 200 + i, ageMs: 40);
            _ring.Scan(stamp + 40 + i);
        }

        double[] seen = [.. Enumerable.Range(1, 30).Select(i => _client.AwaitChange(Outlet, static _ => true)).Select(static e => e.GetProperty("value").GetDouble())];
        Assert.Equal(Enumerable.Range(1, 30).Select(static i => 200.0 + i), seen);
        _ring.SetSignal(0, SignalRole.OutletTemperature, 230, CoreStatus.UncertainNoCommunicationLastUsableValue, ageMs: 1500);
        long scan = RingRig.Utc();
        _ring.Scan(scan);
        JsonElement late = _client.AwaitChange(Outlet, static e => e.GetProperty("status").GetUInt32() != 0);
        Assert.Equal((0x408F0000u, scan - 1500), (late.GetProperty("status").GetUInt32(), late.GetProperty("source").GetInt64()));
        Assert.True(late.GetProperty("server").GetInt64() >= late.GetProperty("source").GetInt64());
        _ring.SetSignal(0, SignalRole.OutletTemperature, 0, CoreStatus.BadNoCommunication, ageMs: 6000);
        _ring.Scan();
        JsonElement lost = _client.AwaitChange(Outlet, static e => e.GetProperty("status").GetUInt32() == 0x80310000);
        Assert.Equal(JsonValueKind.Null, lost.GetProperty("value").ValueKind);
    }

    [Fact]
    public void A_deadband_and_both_queue_policies_hold()
    {
        using PublicationHost host = HostRig.Start(_ring);
        Connect(host);
        AwaitValue(Outlet, 101);
        const string Flow = "ns=2;s=N-1/GasFlow";
        const string Element = "ns=2;s=N-1/ElementTemperature";
        _client.Subscribe(intervalMs: 1000);
        _client.Monitor(Outlet, queue: 100, deadband: 5);
        _client.Monitor(Flow, queue: 3, discardOldest: true);
        _client.Monitor(Element, queue: 3, discardOldest: false);
        _client.AwaitChange(Element, static _ => true);
        for (int i = 1; i <= 10; i++)
        {
            _ring.SetSignal(0, SignalRole.OutletTemperature, 101 + (2 * i));
            _ring.SetSignal(0, SignalRole.GasFlow, i);
            _ring.SetSignal(0, SignalRole.ElementTemperature, i);
            _ring.Scan();
        }

        var told = new Dictionary<string, List<(double Value, uint Status)>>(StringComparer.Ordinal) { [Outlet] = [], [Flow] = [], [Element] = [] };
        while (told.Values.Sum(static l => l.Count) < 9)
        {
            JsonElement e = _client.Await("nine changes", static e => NodeClient.Is(e, "change"));
            told[e.GetProperty("node").GetString()!].Add((e.GetProperty("value").GetDouble(), e.GetProperty("status").GetUInt32()));
        }

        Assert.Equal([(107.0, 0u), (113.0, 0u), (119.0, 0u)], told[Outlet]);
        Assert.Equal([(8.0, 0x480u), (9.0, 0u), (10.0, 0u)], told[Flow]);
        Assert.Equal([(1.0, 0u), (2.0, 0u), (10.0, 0x480u)], told[Element]);
    }

    [Fact]
    public void A_write_is_refused()
    {
        using PublicationHost host = HostRig.Start(_ring);
        Connect(host);
        Assert.Equal("BadNotWritable", _client.Ask(new JsonObject { ["cmd"] = "write", ["node"] = Outlet, ["value"] = 1 }).GetProperty("name").GetString());
    }

    [Fact]
    public void It_comes_back_after_a_restart_of_the_server_and_sees_changes_again()
    {
        int port;
        using (PublicationHost host = HostRig.Start(_ring))
        {
            port = host.Port;
            Assert.True(_client.Connect(port, retries: 100).GetProperty("ok").GetBoolean());
            _client.Subscribe();
            _client.Monitor(Outlet);
            _client.AwaitChange(Outlet, static _ => true);
        }

        _client.Await("loss of the connection", static e => NodeClient.Is(e, "lost"));
        _ring.SetSignal(0, SignalRole.OutletTemperature, 321);
        _ring.Scan();
        using PublicationHost again = HostRig.Start(_ring, port);
        _client.AwaitChange(Outlet, static e => e.GetProperty("value").ValueKind == JsonValueKind.Number && e.GetProperty("value").GetDouble() == 321);
        _ring.SetSignal(0, SignalRole.OutletTemperature, 322);
        _ring.Scan();
        _client.AwaitChange(Outlet, static e => e.GetProperty("value").ValueKind == JsonValueKind.Number && e.GetProperty("value").GetDouble() == 322);
    }

    public void Dispose()
    {
        _client.Dispose();
        _ring.Dispose();
    }

    private void Connect(PublicationHost host)
    {
        JsonElement answer = _client.Connect(host.Port);
        Assert.True(answer.GetProperty("ok").GetBoolean(), answer.ToString());
    }

    private void AwaitValue(string node, double value)
    {
        long end = Environment.TickCount64 + 10_000;
        while (_client.Read(node)[0].GetProperty("value") is var read && !(read.ValueKind == JsonValueKind.Number && read.GetDouble() == value))
        {
            Assert.True(Environment.TickCount64 < end, $"{node} is {read} and not {value}");
            Thread.Sleep(20);
        }
    }
}
