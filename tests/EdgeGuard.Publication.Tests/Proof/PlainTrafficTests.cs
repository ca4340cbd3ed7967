using System.Globalization;
using System.Text.Json.Nodes;
using EdgeGuard.Core.Signals;
using EdgeGuard.Interop.Tests;
using EdgeGuard.Publication.Tests.Rigs;

namespace EdgeGuard.Publication.Tests.Proof;

/// <summary>
/// Every byte the server sends in a plain session with the independent client, decoded by a third party that nobody here
/// wrote either (tshark, of the Wireshark project, from the Debian archive).
/// </summary>
public sealed class PlainTrafficTests
{
    // Binary encoding ids of OPC 10000-6, NodeIds.csv: services of which both ways have to be in the recording.
    private static readonly (string Service, int Request, int Response)[] Services =
    [
        ("FindServers", 422, 425), ("GetEndpoints", 428, 431), ("OpenSecureChannel", 446, 449), ("CreateSession", 461, 464),
        ("ActivateSession", 467, 470), ("CloseSession", 473, 476), ("Browse", 527, 530), ("BrowseNext", 533, 536), ("Read", 631, 634),
        ("Write", 673, 676), ("Call", 712, 715), ("CreateMonitoredItems", 751, 754), ("CreateSubscription", 787, 790), ("Publish", 826, 829),
    ];

    [Fact]
    public void A_plain_session_is_decoded_by_tshark_without_a_malformed_packet()
    {
        using var ring = new RingRig();
        ring.Start();
        ring.Scan();
        using PublicationHost host = HostRig.Start(ring);
        using var capture = TrafficCapture.OpcUa(host.Port);
        RunSession(ring, host);
        capture.Stop();

        Assert.Empty(capture.Fields("_ws.malformed", "frame.number", "_ws.malformed"));

        // Undecodable remainders are told by the decoder as expert notes of severity error.
        Assert.Empty(capture.Fields("_ws.expert.severity == error", "frame.number", "_ws.expert.message"));
        HashSet<int> seen = [.. capture.Fields("opcua", "opcua.servicenodeid.numeric").SelectMany(static l => l.Split(',', StringSplitOptions.RemoveEmptyEntries)).Select(static n => int.Parse(n, CultureInfo.InvariantCulture))];
        Assert.All(Services, s => Assert.True(seen.Contains(s.Request) && seen.Contains(s.Response), $"{s.Service} was not decoded both ways; seen: {string.Join(' ', seen.Order())}"));
        Assert.NotEmpty(capture.Fields("opcua.transport.type == \"HEL\"", "frame.number"));
        Assert.NotEmpty(capture.Fields("opcua.transport.type == \"ACK\"", "frame.number"));
    }

    [Fact]
    public void The_decoder_would_tell_a_malformed_packet()
    {
        using var ring = new RingRig();
        ring.Start();
        ring.Scan();
        using PublicationHost host = HostRig.Start(ring);
        using var capture = TrafficCapture.OpcUa(host.Port);
        using (var socket = new System.Net.Sockets.TcpClient())
        {
            // A Hello whose URL declares more bytes than the chunk has.
            socket.Connect(System.Net.IPAddress.Loopback, host.Port);
            byte[] hello = [.. "HELF"u8, 36, 0, 0, 0, .. new byte[20], 0xF0, 0, 0, 0, .. "opc."u8];
            socket.GetStream().Write(hello);
            socket.GetStream().ReadByte();
        }

        capture.Stop();
        Assert.NotEmpty(capture.Fields("_ws.malformed", "frame.number"));
    }

    private static void RunSession(RingRig ring, PublicationHost host)
    {
        const string Outlet = "ns=2;s=N-1/OutletTemperature";
        using var client = new NodeClient(ring.Folder);
        client.Ask(new JsonObject { ["cmd"] = "endpoints", ["url"] = $"opc.tcp://127.0.0.1:{host.Port}" });
        Assert.True(client.Connect(host.Port).GetProperty("ok").GetBoolean());
        Assert.Empty(client.Ask(new JsonObject { ["cmd"] = "browse", ["maxReferences"] = 50 }).GetProperty("errors").EnumerateArray());
        client.Ask(new JsonObject { ["cmd"] = "attributes", ["nodes"] = new JsonArray(Outlet, "i=2253", "i=7594", "i=862", "ns=2;s=N-1/State/EnumStrings", "ns=2;s=N-1/OutletTemperature/EURange") });
        client.Read(Outlet, "i=2256", "i=2255", "i=2259", "ns=2;s=no-such-node");
        client.Ask(new JsonObject { ["cmd"] = "write", ["node"] = Outlet, ["value"] = 1 });
        client.Subscribe();
        client.Monitor(Outlet, queue: 10);
        client.Monitor("i=2258");
        client.AwaitChange(Outlet, static _ => true);
        ring.SetSignal(0, SignalRole.OutletTemperature, 222);
        ring.Scan();
        client.AwaitChange(Outlet, static e => e.GetProperty("value").ValueKind == System.Text.Json.JsonValueKind.Number && e.GetProperty("value").GetDouble() == 222);
        client.TryAsk(new JsonObject { ["cmd"] = "call", ["object"] = "i=2253", ["method"] = "i=11492", ["args"] = new JsonArray("no number") });
        client.Ask(new JsonObject { ["cmd"] = "close" });
    }
}
