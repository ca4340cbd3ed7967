using System.Net;
using EdgeGuard.Service.Configuration.Drafts;

namespace EdgeGuard.Service.Configuration.Rules;

/// <summary>The publisher listens on an address of this machine, not on a name that may lead elsewhere tomorrow; a discovery server has a URL of the one transport spoken here.</summary>
internal static class PublicationRules
{
    public static void Check(SiteDraft site, FaultList faults)
    {
        if (site.Publication.Text("bind") is { } bind && !IPAddress.TryParse(bind, out _))
        {
            faults.Add(site.Publication.At("bind"), "not an address to listen on", Quoted.Of(bind), "an IP address of this machine", "\"127.0.0.1\" for clients on this machine, \"0.0.0.0\" for all networks");
        }

        if (site.Publication.Text("discoveryServer") is { } server && !IsDiscoveryUrl(server))
        {
            faults.Add(site.Publication.At("discoveryServer"), "not the URL of a discovery server", Quoted.Of(server), "opc.tcp://, a host, and a port where it is not 4840", "\"opc.tcp://127.0.0.1:4840\"");
        }
    }

    private static bool IsDiscoveryUrl(string text) =>
        Uri.TryCreate(text, UriKind.Absolute, out Uri? url) && url.Scheme == "opc.tcp" && url.Host.Length > 0 && url.UserInfo.Length == 0;
}
