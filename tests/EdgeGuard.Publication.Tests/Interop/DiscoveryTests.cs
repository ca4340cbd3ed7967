using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using EdgeGuard.Acceptance.Tests.Rigs;
using EdgeGuard.Publication.Tests.Rigs;

namespace EdgeGuard.Publication.Tests.Interop;

/// <summary>Registration with an independent discovery server, real processes on both sides.</summary>
public sealed class DiscoveryTests
{
    private const int PatienceMs = 60_000;

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void A_discovery_server_that_is_trusted_tells_clients_of_this_server_and_hears_that_it_goes(bool old)
    {
        using var folder = new TestFolder();
        int port = TcpHello.FreePort();
        string site = TestSite.N1(TcpHello.FreePort())
            .With("\"scanMs\": 100,", string.Create(CultureInfo.InvariantCulture, $"\"scanMs\": 100, \"publication\": {{ \"discoveryServer\": \"opc.tcp://127.0.0.1:{port}\", \"registerSeconds\": 10 }},"))
            .Write(folder.File("site"));
        using var publisher = new PublisherChild(folder, site);
        AwaitLine(folder, "not registered with the discovery server, trying again: ");

        // It is there now, and a stranger: no word to it before a person has trusted its certificate.
        using var discovery = new NodeDiscovery(folder.Path, port, old);
        AwaitLine(folder, "certs trust " + discovery.Thumbprint);
        CommandLine trusted = CommandLine.Run("certs", "trust", discovery.Thumbprint, "--site", site);
        Assert.True(trusted.ExitCode == 0, trusted.Errors);

        JsonElement registered = discovery.Await("registered");
        JsonElement server = registered.GetProperty("server");
        string uri = server.GetProperty("uri").GetString()!;
        Assert.Equal("urn:edgeguard", server.GetProperty("product").GetString());
        Assert.Equal(0, server.GetProperty("type").GetInt32()); // OPC 10000-4, 7.2: SERVER_0
        Assert.True(server.GetProperty("online").GetBoolean());
        Assert.Equal([string.Create(CultureInfo.InvariantCulture, $"opc.tcp://127.0.0.1:{publisher.Port}")], Texts(server, "urls"));
        Assert.Equal(old ? "RegisterServerRequest" : "RegisterServer2Request", registered.GetProperty("service").GetString());
        Assert.Equal(old ? [] : ["DA"], Texts(registered, "capabilities"));
        AwaitLine(folder, "registered with the discovery server");

        using (var client = new NodeClient(folder.Path))
        {
            JsonElement found = client.Ask(new JsonObject { ["cmd"] = "endpoints", ["url"] = string.Create(CultureInfo.InvariantCulture, $"opc.tcp://127.0.0.1:{port}") });
            Assert.Contains(uri, Texts(found, "servers"));
        }

        // Again and again while it runs, and once more when it goes.
        Assert.False(discovery.Await("registered").GetProperty("first").GetBoolean());
        publisher.Terminate();
        JsonElement gone = discovery.Await("unregistered");
        Assert.Equal((uri, false), (gone.GetProperty("server").GetProperty("uri").GetString(), gone.GetProperty("forced").GetBoolean()));
    }

    private static string?[] Texts(JsonElement parent, string name) => [.. parent.GetProperty(name).EnumerateArray().Select(static t => t.GetString())];

    private static void AwaitLine(TestFolder folder, string part) =>
        Assert.True(SpinWait.SpinUntil(() => Log(folder).Contains(part, StringComparison.OrdinalIgnoreCase), PatienceMs), $"\"{part}\" is not in the log: {Log(folder)}");

    private static string Log(TestFolder folder) => folder.ReadShared("publisher.log");
}
