using System.Net;
using EdgeGuard.Acceptance.Tests.Rigs;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.Publication.Tests.Rigs;
using EdgeGuard.Service.Configuration;

namespace EdgeGuard.Publication.Tests.Site;

/// <summary>
/// What clients see of the pilot hall is a reviewed file, docs/reference/opcua-address-space-pilot-hall.txt. To accept a
/// change: run with EDGEGUARD_ACCEPT=1 and read the diff; a NodeId that changes breaks clients.
/// </summary>
public sealed class GoldenSiteTests
{
    private const string Heading = "# The pilot hall (config/pilot-hall), namespace 2: NodeId class name [attributes] (arguments) forward references by type = property \"description\"\n";

    [Fact]
    public void The_address_space_of_the_pilot_hall_is_the_reviewed_one()
    {
        string path = Repository.File("docs", "reference", "opcua-address-space-pilot-hall.txt");
        using PublicationHost host = PilotHall();
        string dump = Heading + SiteDump.Of(host.Server.Space);
        if (Environment.GetEnvironmentVariable("EDGEGUARD_ACCEPT") == "1")
        {
            File.WriteAllText(path, dump);
        }

        string[] golden = File.ReadAllText(path).Split('\n');
        string[] now = dump.Split('\n');
        for (int i = 0; i < Math.Min(golden.Length, now.Length); i++)
        {
            Assert.True(golden[i] == now[i], $"line {i + 1} of {path}\n  reviewed {golden[i]}\n  now      {now[i]}");
        }

        Assert.Equal(golden.Length, now.Length);
    }

    [Fact]
    public void Every_variable_of_the_pilot_hall_that_clients_watch_explains_itself()
    {
        using PublicationHost host = PilotHall();
        VariableNode[] watched = [.. host.Server.Space.Snapshot().OfType<VariableNode>().Where(static v => v.NodeId.NamespaceIndex == 2 && v.TypeDefinition?.NodeId.IsStandard(StandardIds.PropertyType) == false)];
        Assert.True(watched.Length > 150, $"{watched.Length}");
        string[] mute = [.. watched.Where(static v => string.IsNullOrEmpty(v.Description.Text)).Select(static v => v.NodeId.Text!)];
        Assert.Empty(mute);
    }

    private static PublicationHost PilotHall()
    {
        SiteConfiguration site = SiteLoader.Load(Repository.File("config", "pilot-hall")).Site!;
        return new PublicationHost(new PublicationOptions
        {
            Site = site.Table,
            LinkNames = [.. site.Links.Select(static l => l.Name)],
            SiteDigest = Convert.FromHexString(site.SettingsDigest),
            RingPath = "no ring",
            JournalHeadPath = "no journal",
            EndPoint = new IPEndPoint(IPAddress.Loopback, 0),
            Version = "0",
            Log = new ListLog(),
            AllowNone = true,
            Requests = new NoRequests(),
        });
    }

    private sealed class NoRequests : IGuardRequests
    {
        public GuardReply Ask(GuardRequest request) => new(GuardOutcome.Unavailable, "no guard");

        public void Note(string person, string reason)
        {
        }
    }
}
