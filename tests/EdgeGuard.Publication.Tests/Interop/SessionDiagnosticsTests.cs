using System.Text.Json;
using System.Text.Json.Nodes;
using EdgeGuard.Core.Signals;
using EdgeGuard.OpcUa.Security;
using EdgeGuard.Publication.Pki;
using EdgeGuard.Publication.Tests.Rigs;
using EdgeGuard.Publication.Users;

namespace EdgeGuard.Publication.Tests.Interop;

/// <summary>
/// The diagnostics that come and go (OPC 10000-5, 6.3.5 and 7.12) as an independent client finds them by browsing and decodes
/// them with its own definitions, while a second one comes, subscribes and goes.
/// </summary>
public sealed class SessionDiagnosticsTests : IDisposable
{
    private const string Outlet = "ns=2;s=N-1/OutletTemperature";
    private const string Summary = "i=3706"; // NodeIds.csv: Server_ServerDiagnostics_SessionsDiagnosticsSummary
    private const string Subscriptions = "i=2290"; // Server_ServerDiagnostics_SubscriptionDiagnosticsArray
    private readonly RingRig _ring = new();
    private readonly SecurityParts _parts;
    private readonly NodeClient _engineer;
    private readonly NodeClient _other;

    public SessionDiagnosticsTests()
    {
        _ring.Start();
        _ring.Scan();
        UserFile.Write(Path.Combine(_ring.Folder, UserFile.Name), [new("anna", UserRole.Engineer, PasswordHash.Create("pellets-650"u8), null)]);
        _parts = SecurityParts.Open(_ring.Folder, "pilot hall", new ListLog());
        _engineer = new NodeClient(Directory.CreateDirectory(Path.Combine(_ring.Folder, "engineer")).FullName);
        _other = new NodeClient(Directory.CreateDirectory(Path.Combine(_ring.Folder, "other")).FullName);
    }

    [Fact]
    public void A_client_reads_its_own_session_and_sees_another_come_and_go()
    {
        using PublicationHost host = Start();
        string own = Connect(_engineer, host, "anna", "pellets-650");
        Assert.Equal([own], Objects());
        (string Name, string Node)[] parts = Components(own);
        Assert.Equal(["SessionDiagnostics", "SessionSecurityDiagnostics", "SubscriptionDiagnosticsArray"], parts.Select(static part => part.Name).Order(StringComparer.Ordinal));
        JsonElement told = CheckComponents(parts.Single(static part => part.Name == "SessionDiagnostics").Node, 43);
        Assert.Equal(own, told.GetProperty("sessionId").GetString());
        Assert.Equal(60_000, told.GetProperty("actualSessionTimeout").GetDouble());
        Assert.True(told.GetProperty("browseCount").GetProperty("totalCount").GetInt32() >= 3);

        // Security is for nobody of a site, as with the array.
        (string Name, string Node)[] security = Components(parts.Single(static part => part.Name == "SessionSecurityDiagnostics").Node);
        Assert.Equal(9, security.Length);
        Assert.All(_engineer.Read([.. security.Select(static part => part.Node)]), static value => Assert.Equal("BadUserAccessDenied", value.GetProperty("name").GetString()));

        string theirs = Connect(_other, host);
        Assert.Equal([own, theirs], Objects());
        string name = Components(Components(theirs).Single(static part => part.Name == "SessionDiagnostics").Node).Single(static part => part.Name == "SessionName").Node;
        Assert.Equal("Good", _engineer.Read(name)[0].GetProperty("name").GetString());
        Assert.All(_other.Read(name, "i=3707"), static value => Assert.Equal("BadUserAccessDenied", value.GetProperty("name").GetString()));
        _other.Ask(new JsonObject { ["cmd"] = "close" });
        Assert.Equal([own], Objects());
        Assert.Equal("BadNodeIdUnknown", _engineer.Read(name)[0].GetProperty("name").GetString());
        Assert.Equal("BadNodeIdUnknown", _engineer.Ask(new JsonObject { ["cmd"] = "components", ["node"] = theirs }).GetProperty("status").GetString());
    }

    [Fact]
    public void The_variable_of_a_subscription_counts_what_its_client_received()
    {
        const int Changes = 20;
        using PublicationHost host = Start();
        Connect(_engineer, host, "anna", "pellets-650");
        string theirs = Connect(_other, host);
        Assert.Empty(Components(Subscriptions));
        AwaitValue(101);
        JsonElement made = _other.Ask(new JsonObject { ["cmd"] = "subscribe", ["interval"] = 250 });
        _other.Monitor(Outlet, queue: 100);
        _other.AwaitChange(Outlet, static _ => true);
        for (int i = 1; i <= Changes; i++)
        {
            _ring.SetSignal(0, SignalRole.OutletTemperature, 200 + i);
            _ring.Scan();
        }

        for (int i = 1; i <= Changes; i++)
        {
            Assert.Equal(200 + i, _other.AwaitChange(Outlet, static _ => true).GetProperty("value").GetDouble());
        }

        (string name, string node) = Assert.Single(Components(Subscriptions));
        Assert.Equal([(name, node)], Components(Components(theirs).Single(static part => part.Name == "SubscriptionDiagnosticsArray").Node));
        Assert.Equal(made.GetProperty("id").GetInt32().ToString(System.Globalization.CultureInfo.InvariantCulture), name);
        JsonElement told = CheckComponents(node, 31, "CurrentLifetimeCount", "CurrentKeepAliveCount", "PublishRequestCount", "UnacknowledgedMessageCount", "NextSequenceNumber");
        Assert.Equal((theirs, made.GetProperty("id").GetInt32(), 250.0), (told.GetProperty("sessionId").GetString(), told.GetProperty("subscriptionId").GetInt32(), told.GetProperty("publishingInterval").GetDouble()));
        Assert.Equal((1 + Changes, 1 + Changes, 1, 0), (Count(told, "dataChangeNotificationsCount"), Count(told, "notificationsCount"), Count(told, "monitoredItemCount"), Count(told, "monitoringQueueOverflowCount")));
        _other.Monitor("ns=2;s=N-1/State");
        Assert.Equal(2, Count(_engineer.Read(node)[0].GetProperty("value"), "monitoredItemCount"));
        _other.Ask(new JsonObject { ["cmd"] = "close" });
        Assert.Empty(Components(Subscriptions));
        Assert.Equal("BadNodeIdUnknown", _engineer.Read(node)[0].GetProperty("name").GetString());
    }

    public void Dispose()
    {
        _other.Dispose();
        _engineer.Dispose();
        _parts.Dispose();
        _ring.Dispose();
    }

    private PublicationHost Start()
    {
        var host = new PublicationHost(HostRig.Options(_ring) with { Instance = _parts.Instance, ApplicationUri = _parts.ApplicationUri, Judge = _parts.Judge, Users = _parts.Users });
        host.Start();
        return host;
    }

    private static string Connect(NodeClient client, PublicationHost host, string? user = null, string? password = null)
    {
        JsonElement answer = client.Connect(host.Port, user: user, password: password);
        Assert.True(answer.GetProperty("ok").GetBoolean(), answer.ToString());
        return client.Ask(new JsonObject { ["cmd"] = "session" }).GetProperty("id").GetString()!;
    }

    private string[] Objects() => [.. Components(Summary).Select(static part => part.Node).Where(static node => node.StartsWith("ns=1", StringComparison.Ordinal))];

    private (string Name, string Node)[] Components(string node)
    {
        JsonElement answer = _engineer.Ask(new JsonObject { ["cmd"] = "components", ["node"] = node });
        Assert.Equal("Good", answer.GetProperty("status").GetString());
        return [.. answer.GetProperty("components").EnumerateArray().Select(static c => (c.GetProperty("name").GetString()!, c.GetProperty("node").GetString()!))];
    }

    // Each component shows the field of its name as the client itself decodes it from the structure, in one and the same request.
    private JsonElement CheckComponents(string node, int count, params string[] moving)
    {
        (string Name, string Node)[] parts = Components(node);
        Assert.Equal(count, parts.Length);
        JsonElement[] values = _engineer.Read([node, .. parts.Select(static part => part.Node)]);
        Assert.All(values, static value => Assert.Equal("Good", value.GetProperty("name").GetString()));
        JsonElement whole = values[0].GetProperty("value");
        for (int i = 0; i < parts.Length; i++)
        {
            JsonElement field = whole.GetProperty(char.ToLowerInvariant(parts[i].Name[0]) + parts[i].Name[1..]);
            bool isSame = JsonElement.DeepEquals(field, values[i + 1].GetProperty("value"));
            Assert.True(isSame || moving.Contains(parts[i].Name), $"{parts[i].Name} is {values[i + 1].GetProperty("value")} and {field} in the structure");
        }

        return whole;
    }

    private static int Count(JsonElement told, string name) => told.GetProperty(name).GetInt32();

    private void AwaitValue(double value)
    {
        long end = Environment.TickCount64 + 10_000;
        while (_other.Read(Outlet)[0].GetProperty("value") is var read && !(read.ValueKind == JsonValueKind.Number && read.GetDouble() == value))
        {
            Assert.True(Environment.TickCount64 < end, $"{Outlet} is {read} and not {value}");
            Thread.Sleep(20);
        }
    }
}
