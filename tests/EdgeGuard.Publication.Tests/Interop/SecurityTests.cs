using System.Diagnostics;
using System.Text.Json;
using System.Text.Json.Nodes;
using EdgeGuard.Acceptance.Tests.Rigs;
using EdgeGuard.Publication.Tests.Rigs;
using EdgeGuard.Records.Journal;
using EdgeGuard.Service.Requests;

namespace EdgeGuard.Publication.Tests.Interop;

/// <summary>Policies, modes, trust, users and methods with the independent client against the real processes.</summary>
public sealed class SecurityTests
{
    private static readonly (string Policy, string Mode)[] Channels =
    [
        ("Basic256Sha256", "Sign"), ("Basic256Sha256", "SignAndEncrypt"),
        ("Aes128_Sha256_RsaOaep", "Sign"), ("Aes128_Sha256_RsaOaep", "SignAndEncrypt"),
        ("Aes256_Sha256_RsaPss", "Sign"), ("Aes256_Sha256_RsaPss", "SignAndEncrypt"),
    ];

    [Fact]
    public void Trust_policies_users_and_methods()
    {
        using var folder = new TestFolder();
        using PlantChild plant = PlantChild.Start(folder, "N-1");
        string site = TestSite.N1(plant.Ports[0]).Quick().Write(folder.File("site"));
        using GuardChild guard = GuardChild.Start(folder, site);
        AddUser(site, "anna", "operator", "pellets-650");
        using var publisher = new PublisherChild(folder, site);
        using var client = new NodeClient(folder.Path);

        // A stranger is refused; trusted by command it is let in without a restart, within a second.
        JsonElement refused = client.Connect(publisher.Port, "Basic256Sha256", "SignAndEncrypt");
        Assert.False(refused.GetProperty("ok").GetBoolean());
        Run("certs", "trust", Path.GetFileNameWithoutExtension(Directory.GetFiles(Path.Combine(guard.Data, "pki", "rejected"), "*.der").Single())[^40..], "--site", site);
        Thread.Sleep(1_100);
        foreach ((string policy, string mode) in Channels)
        {
            Connect(client, publisher.Port, policy, mode);
            Assert.Equal(0u, client.Read("ns=2;s=N-1/State")[0].GetProperty("status").GetUInt32());
            client.Ask(new JsonObject { ["cmd"] = "close" });
        }

        Assert.False(client.Connect(publisher.Port, "Basic256Sha256", "SignAndEncrypt", "anna", "wrong-one").GetProperty("ok").GetBoolean());
        Connect(client, publisher.Port, "Basic256Sha256", "SignAndEncrypt");
        Assert.Equal("BadUserAccessDenied", Call(client, "Stop", "test").GetProperty("name").GetString());
        client.Ask(new JsonObject { ["cmd"] = "close" });

        // With a name on an endpoint without security the password is encrypted all the same.
        Connect(client, publisher.Port, "None", "None", "anna", "pellets-650");
        Assert.Equal("BadNotExecutable", Call(client, "Reset", "test").GetProperty("name").GetString());
        Assert.Equal("BadInvalidState", Call(client, "Start", "not reset yet").GetProperty("name").GetString());
        Assert.StartsWith("start: ", client.Read("ns=2;s=N-1/LastAnswer")[0].GetProperty("value").GetString(), StringComparison.Ordinal);
        Assert.Equal("BadArgumentsMissing", CallRaw(client, "Stop").GetProperty("name").GetString());
        JsonElement acknowledged = Call(client, "Acknowledge", "seen at the panel");
        Assert.Equal("Good", acknowledged.GetProperty("name").GetString());
        client.Ask(new JsonObject { ["cmd"] = "close" });
        string journal = File.ReadAllText(Directory.GetFiles(Path.Combine(guard.Data, "journal"), "journal-*.log").Single());
        Assert.Contains("anna over OPC UA", journal, StringComparison.Ordinal);
        Assert.Contains("seen at the panel", journal, StringComparison.Ordinal);
    }

    [Fact]
    public void A_refused_call_stands_in_the_guards_journal_with_person_method_and_reason()
    {
        using var folder = new TestFolder();
        using PlantChild plant = PlantChild.Start(folder, "N-1");
        string site = TestSite.N1(plant.Ports[0]).Quick().Write(folder.File("site"));
        using GuardChild guard = GuardChild.Start(folder, site);
        using var publisher = new PublisherChild(folder, site);
        using var client = new NodeClient(folder.Path);
        Connect(client, publisher.Port, "None", "None");
        Assert.Equal("BadUserAccessDenied", Call(client, "Stop", "I am nobody").GetProperty("name").GetString());
        JournalRecord? refusal = null;
        Assert.True(SpinWait.SpinUntil(() => (refusal = JournalLines.Read(guard.Data).FirstOrDefault(static r => r["event"] == "request-rejected")) is not null, 60_000), "the refusal is not in the journal");
        Assert.StartsWith("anonymous over OPC UA, session ", refusal!["person"], StringComparison.Ordinal);
        Assert.Contains("stop N-1 refused by the publisher: the role is missing", refusal.Body, StringComparison.Ordinal);

        // A reset from afar would be refused by the guard itself, even if the publisher let it through.
        byte[] line = RequestClient.Exchange(guard.Data, new RequestMessage { Kind = "reset", Unit = "N-1", Reason = "from afar", Remote = true }, 60_000);
        RequestAnswer answer = JsonSerializer.Deserialize(line, RequestJson.Default.RequestAnswer)!;
        Assert.Equal("refused", answer.Result);
        Assert.Contains("remote reset is off", answer.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_function_is_bypassed_from_afar_with_person_and_time_and_the_client_sees_who_and_until_when()
    {
        using var folder = new TestFolder();
        using PlantChild plant = PlantChild.Start(folder, "N-1");
        string site = TestSite.N1(plant.Ports[0]).Quick().With("\"watchdogMs\": 2000,", "\"watchdogMs\": 2000, \"bypass\": { \"flow\": true, \"maxMinutes\": 60 }, \"force\": { \"maxMinutes\": 15, \"gasFlow\": { \"min\": 100, \"max\": 160 } },").Write(folder.File("site"));
        using GuardChild guard = GuardChild.Start(folder, site);
        AddUser(site, "anna", "engineer", "pellets-650");
        using var publisher = new PublisherChild(folder, site);
        using var client = new NodeClient(folder.Path);
        Connect(client, publisher.Port, "None", "None", "anna", "pellets-650");
        JsonElement tooLong = Interlock(client, "FLOW", "Bypass", "Ines", "meter is changed", 61);
        Assert.Equal("BadInvalidState", tooLong.GetProperty("name").GetString());
        Assert.Equal("BadNotExecutable", Interlock(client, "ELEM", "Bypass", "Ines", "meter is changed", 10).GetProperty("name").GetString());

        long before = DateTimeOffset.UtcNow.ToUnixTimeMilliseconds();
        Assert.Equal("Good", Interlock(client, "FLOW", "Bypass", "Ines", "meter is changed", 10).GetProperty("name").GetString());
        client.Subscribe();
        client.Monitor("ns=2;s=N-1/FLOW/Bypassed");
        client.AwaitChange("ns=2;s=N-1/FLOW/Bypassed", static e => e.GetProperty("value").ValueKind == JsonValueKind.True);
        JsonElement[] told = client.Read("ns=2;s=N-1/FLOW/BypassedBy", "ns=2;s=N-1/FLOW/BypassedUntil", "ns=2;s=N-1/ProofTestDue", "ns=2;s=/links/n1/State", "ns=2;s=/links/n1/Answers", "ns=2;s=/links/n1/RoundTripLast/EngineeringUnits");
        Assert.StartsWith("Ines, anna over OPC UA", told[0].GetProperty("value").GetString(), StringComparison.Ordinal);
        Assert.InRange(told[1].GetProperty("value").GetDateTimeOffset().ToUnixTimeMilliseconds() - before, 599_000, 660_000);

        // The proof test of the example was on 2026-01-15 and is due within 366 days.
        Assert.Equal(new DateTimeOffset(2027, 1, 16, 0, 0, 0, TimeSpan.Zero), told[2].GetProperty("value").GetDateTimeOffset());

        // The link the guard polls is up and answers; UNECE code C26 (millisecond) as a number.
        Assert.True(told[3].GetProperty("value").GetBoolean());
        Assert.True(long.Parse(told[4].GetProperty("value").ToString(), System.Globalization.CultureInfo.InvariantCulture) > 0);
        Assert.Equal(0x433236, told[5].GetProperty("value").GetProperty("unitId").GetInt32());

        // Diagnostics as an independent client decodes them: summary, sessions, subscriptions; security is for nobody here.
        JsonElement[] diagnostics = client.Read("i=2275", "i=3707", "i=2290", "i=3708");
        Assert.Equal((1, 1), (diagnostics[0].GetProperty("value").GetProperty("currentSessionCount").GetInt32(), diagnostics[0].GetProperty("value").GetProperty("currentSubscriptionCount").GetInt32()));
        JsonElement session = Assert.Single(diagnostics[1].GetProperty("value").EnumerateArray());
        Assert.Equal(("urn:", 3), (session.GetProperty("clientDescription").GetProperty("applicationUri").GetString()![..4], session.GetProperty("callCount").GetProperty("totalCount").GetInt32()));
        JsonElement subscription = Assert.Single(diagnostics[2].GetProperty("value").EnumerateArray());
        Assert.Equal((1, session.GetProperty("sessionId").ToString()), (subscription.GetProperty("monitoredItemCount").GetInt32(), subscription.GetProperty("sessionId").ToString()));
        Assert.Equal("BadUserAccessDenied", diagnostics[3].GetProperty("name").GetString());

        Assert.Equal("BadInvalidState", Interlock(client, "forces/GasFlow", "Force", "Ines", "meter is changed", 161.0, 10).GetProperty("name").GetString());
        Assert.Equal("Good", Interlock(client, "forces/GasFlow", "Force", "Ines", "meter is changed", 141.5, 10).GetProperty("name").GetString());
        client.Monitor("ns=2;s=N-1/forces/GasFlow/Forced");
        client.AwaitChange("ns=2;s=N-1/forces/GasFlow/Forced", static e => e.GetProperty("value").ValueKind == JsonValueKind.True);
        JsonElement[] forced = client.Read("ns=2;s=N-1/GasFlow", "ns=2;s=N-1/forces/GasFlow/Real", "ns=2;s=N-1/forces/GasFlow/ForcedReason");
        Assert.Equal(("GoodLocalOverride", 141.5), (forced[0].GetProperty("name").GetString(), forced[0].GetProperty("value").GetDouble()));
        Assert.Equal(("Good", "meter is changed"), (forced[1].GetProperty("name").GetString(), forced[2].GetProperty("value").GetString()));
        Assert.NotEqual(141.5, forced[1].GetProperty("value").GetDouble());
        Assert.Equal("Good", Interlock(client, "forces/GasFlow", "Unforce", "Ines", "meter is back").GetProperty("name").GetString());
        client.AwaitChange("ns=2;s=N-1/forces/GasFlow/Forced", static e => e.GetProperty("value").ValueKind == JsonValueKind.False);
        Assert.Equal(["force-begun", "force-ended"], JournalLines.Read(guard.Data).Select(static r => r["event"]).Where(static e => e!.StartsWith("force-", StringComparison.Ordinal)));

        Assert.Equal("Good", Interlock(client, "FLOW", "Unbypass", "Ines", "meter is back").GetProperty("name").GetString());
        client.AwaitChange("ns=2;s=N-1/FLOW/Bypassed", static e => e.GetProperty("value").ValueKind == JsonValueKind.False);
        JournalRecord begun = JournalLines.Read(guard.Data).Single(static r => r["event"] == "bypass-begun");
        Assert.Equal("FLOW", begun["function"]);
        Assert.Contains(JournalLines.Read(guard.Data), static r => r["event"] == "bypass-ended");
        Assert.Contains(JournalLines.Read(guard.Data), static r => r["reason"] == "meter is changed" && r["person"]!.StartsWith("Ines, anna over OPC UA", StringComparison.Ordinal));
    }

    /// <summary>As the independent client takes its arguments: a whole number is a UInt32, a Double says so.</summary>
    private static JsonNode ToJson(object argument) => argument switch
    {
        int number => JsonValue.Create(number),
        double value => new JsonObject { ["double"] = value },
        _ => JsonValue.Create((string)argument),
    };

    private static JsonElement Interlock(NodeClient client, string function, string method, params object[] arguments) => client.Ask(new JsonObject
    {
        ["cmd"] = "call",
        ["object"] = "ns=2;s=N-1/" + function,
        ["method"] = $"ns=2;s=N-1/{function}/{method}",
        ["args"] = new JsonArray([.. arguments.Select(static a => ToJson(a))]),
    });

    private static void Connect(NodeClient client, int port, string policy, string mode, string? user = null, string? password = null)
    {
        JsonElement answer = client.Connect(port, policy, mode, user, password);
        Assert.True(answer.GetProperty("ok").GetBoolean(), $"{policy} {mode}: {answer}");
    }

    private static JsonElement Call(NodeClient client, string method, string reason) =>
        client.Ask(new JsonObject { ["cmd"] = "call", ["object"] = "ns=2;s=N-1", ["method"] = "ns=2;s=N-1/" + method, ["args"] = new JsonArray(reason) });

    private static JsonElement CallRaw(NodeClient client, string method) =>
        client.Ask(new JsonObject { ["cmd"] = "call", ["object"] = "ns=2;s=N-1", ["method"] = "ns=2;s=N-1/" + method });

    private static void Run(params string[] arguments)
    {
        CommandLine done = CommandLine.Run(arguments);
        Assert.True(done.ExitCode == 0, done.Errors);
    }

    private static void AddUser(string site, string name, string role, string password)
    {
        var info = new ProcessStartInfo(Repository.Program, ["users", "add", name, "--role", role, "--site", site]) { RedirectStandardInput = true, RedirectStandardError = true, RedirectStandardOutput = true, UseShellExecute = false };
        using Process process = Process.Start(info)!;
        process.StandardInput.WriteLine(password);
        process.WaitForExit();
        Assert.True(process.ExitCode == 0, process.StandardError.ReadToEnd());
    }
}
