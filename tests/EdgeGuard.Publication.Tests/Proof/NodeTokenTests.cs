using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using System.Text.Json;
using System.Text.Json.Nodes;
using EdgeGuard.Acceptance.Tests.Rigs;
using EdgeGuard.Publication.Tests.Rigs;

namespace EdgeGuard.Publication.Tests.Proof;

/// <summary>Life of channels, people with certificates and the reset from afar, with the independent client.</summary>
public sealed class NodeTokenTests
{
    private const string State = "ns=2;s=N-1/State";

    [Fact]
    public void Point_9_and_11_channels_and_sessions_of_10_s_are_renewed_without_a_lost_value()
    {
        const int TenSecondsMs = 10_000;
        const int PatienceMs = 120_000;
        using var folder = new TestFolder();
        using PlantChild plant = PlantChild.Start(folder, "N-1");
        string site = TestSite.N1(plant.Ports[0]).Quick().Write(folder.File("site"));
        using GuardChild guard = GuardChild.Start(folder, site);
        using var publisher = new PublisherChild(folder, site);
        using var client = new NodeClient(folder.Path);
        TrustClient(client, publisher, guard, site);
        JsonElement connected = client.Connect(publisher.Port, "Basic256Sha256", "SignAndEncrypt", tokenLifetimeMs: TenSecondsMs, sessionTimeoutMs: TenSecondsMs);
        Assert.True(connected.GetProperty("ok").GetBoolean(), connected.ToString());
        client.Subscribe();
        client.Monitor("ns=2;s=N-1/OutletTemperature", queue: 100, stamps: true);

        // The client renews at three quarters of the lifetime: twice in 15 s. Then readings must still come.
        Assert.True(SpinWait.SpinUntil(() => AfterRenewals(client.Events, 2) > 10, PatienceMs), $"{AfterRenewals(client.Events, 0)} readings, {AfterRenewals(client.Events, 1)} after the first renewal");
        JsonElement[] events = client.Events.ToArray();
        Assert.DoesNotContain(events, static e => NodeClient.Is(e, "lost"));
        long[] stamps = [.. events.Where(static e => NodeClient.Is(e, "change")).Select(static e => e.GetProperty("source").GetInt64())];
        Assert.Equal(stamps.Order(), stamps);
        Assert.DoesNotContain(events, static e => NodeClient.Is(e, "change") && e.GetProperty("status").GetUInt32() == 0x480);
        Assert.Equal(0u, client.Read(State)[0].GetProperty("status").GetUInt32());
    }

    // Readings behind so many renewals of the channel.
    private static int AfterRenewals(IEnumerable<JsonElement> events, int renewals)
    {
        (int seen, int readings) = (0, 0);
        foreach (JsonElement e in events.ToArray())
        {
            seen += NodeClient.Is(e, "renewed") ? 1 : 0;
            readings += seen >= renewals && NodeClient.Is(e, "change") ? 1 : 0;
        }

        return readings;
    }

    [Fact]
    public void A_person_is_known_by_a_certificate_and_resets_from_afar_where_the_site_allows_it()
    {
        using var folder = new TestFolder();
        using PlantChild plant = PlantChild.Start(folder, "N-1");
        string site = TestSite.N1(plant.Ports[0]).Quick().With("\"setpointC\": 650,", "\"setpointC\": 650, \"remoteReset\": true,").Write(folder.File("site"));
        using GuardChild guard = GuardChild.Start(folder, site);
        (string certificate, string key) = MakePerson("ola", folder.File("ola.der"));
        (string stranger, string strangerKey) = MakePerson("stranger", folder.File("stranger.der"));
        Run("users", "add", "ola", "--role", "engineer", "--certificate", folder.File("ola.der"), "--site", site);
        using var publisher = new PublisherChild(folder, site);
        using var client = new NodeClient(folder.Path);
        TrustClient(client, publisher, guard, site);

        // Nobody knows the stranger; and the certificate of a person without its key is worth nothing.
        Assert.False(Connect(client, publisher, stranger, strangerKey).GetProperty("ok").GetBoolean());
        Assert.False(Connect(client, publisher, certificate, strangerKey).GetProperty("ok").GetBoolean());
        JsonElement connected = Connect(client, publisher, certificate, key);
        Assert.True(connected.GetProperty("ok").GetBoolean(), connected.ToString());

        // After its start a unit stands latched until a person resets it; the power has to be proved off first.
        long end = Environment.TickCount64 + 120_000;
        JsonElement answer;
        while ((answer = Call(client, "Reset", "filter changed")).GetProperty("name").GetString() != "Good")
        {
            Assert.True(Environment.TickCount64 < end, answer.ToString());
            Assert.Equal("BadInvalidState", answer.GetProperty("name").GetString());
            Thread.Sleep(100);
        }

        string journal = File.ReadAllText(Directory.GetFiles(Path.Combine(guard.Data, "journal"), "journal-*.log").Single());
        Assert.Contains("ola over OPC UA", journal, StringComparison.Ordinal);
        Assert.Contains("filter changed", journal, StringComparison.Ordinal);
        Assert.Equal("BadInvalidState", Call(client, "Reset", "twice").GetProperty("name").GetString());
        Assert.StartsWith("reset: ", client.Read("ns=2;s=N-1/LastAnswer")[0].GetProperty("value").GetString(), StringComparison.Ordinal);
    }

    private static JsonElement Connect(NodeClient client, PublisherChild publisher, string certificate, string key)
    {
        return client.TryAsk(new JsonObject
        {
            ["cmd"] = "connect", ["url"] = $"opc.tcp://127.0.0.1:{publisher.Port}", ["policy"] = "Basic256Sha256", ["mode"] = "SignAndEncrypt",
            ["userCertificate"] = certificate, ["userKey"] = key,
        });
    }

    private static JsonElement Call(NodeClient client, string method, string reason) =>
        client.Ask(new JsonObject { ["cmd"] = "call", ["object"] = "ns=2;s=N-1", ["method"] = "ns=2;s=N-1/" + method, ["args"] = new JsonArray(reason) });

    private static void TrustClient(NodeClient client, PublisherChild publisher, GuardChild guard, string site)
    {
        const int TrustSeenMs = 1_100;
        Assert.False(client.Connect(publisher.Port, "Basic256Sha256", "SignAndEncrypt").GetProperty("ok").GetBoolean());
        Run("certs", "trust", Path.GetFileNameWithoutExtension(Directory.GetFiles(Path.Combine(guard.Data, "pki", "rejected"), "*.der").Single())[^40..], "--site", site);
        Thread.Sleep(TrustSeenMs);
    }

    private static (string Certificate, string Key) MakePerson(string name, string file)
    {
        using RSA rsa = RSA.Create(2048);
        var request = new CertificateRequest("CN=" + name, rsa, HashAlgorithmName.SHA256, RSASignaturePadding.Pkcs1);
        request.CertificateExtensions.Add(new X509KeyUsageExtension(X509KeyUsageFlags.DigitalSignature | X509KeyUsageFlags.NonRepudiation | X509KeyUsageFlags.KeyEncipherment | X509KeyUsageFlags.DataEncipherment, critical: true));
        using X509Certificate2 made = request.CreateSelfSigned(DateTimeOffset.UtcNow.AddDays(-1), DateTimeOffset.UtcNow.AddDays(30));
        File.WriteAllBytes(file, made.RawData);
        return (Convert.ToBase64String(made.RawData), rsa.ExportPkcs8PrivateKeyPem());
    }

    private static void Run(params string[] arguments)
    {
        CommandLine done = CommandLine.Run(arguments);
        Assert.True(done.ExitCode == 0, done.Errors);
    }
}
