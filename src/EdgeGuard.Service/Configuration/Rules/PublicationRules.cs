using System.Net;
using EdgeGuard.Service.Configuration.Drafts;

namespace EdgeGuard.Service.Configuration.Rules;

/// <summary>The publisher listens on an address of this machine, not on a name that may lead elsewhere tomorrow.</summary>
internal static class PublicationRules
{
    public static void Check(SiteDraft site, FaultList faults)
    {
        if (site.Publication.Text("bind") is { } bind && !IPAddress.TryParse(bind, out _))
        {
            faults.Add(site.Publication.At("bind"), "not an address to listen on", Quoted.Of(bind), "an IP address of this machine", "\"127.0.0.1\" for clients on this machine, \"0.0.0.0\" for all networks");
        }
    }
}
