using EdgeGuard.Service.Configuration.Drafts;

namespace EdgeGuard.Service.Configuration.Rules;

/// <summary>One connection an endpoint and one entry a device: many devices serve one client only.</summary>
internal static class EndpointRules
{
    public static void Check(SiteDraft site, FaultList faults)
    {
        var endpoints = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        foreach (LinkDraft link in site.Links)
        {
            if (link.Host is { } host && Uri.CheckHostName(host) == UriHostNameType.Unknown)
            {
                faults.Add(link.Section.At("host"), "the host cannot be used", Quoted.Of(host), "a host name or an IP address without port", "\"192.168.1.10\", and the port under \"port\"");
            }
            else if (link.Host is not null && double.IsFinite(link.Port) && !endpoints.Add($"{link.Host} {link.Port}"))
            {
                faults.Add(link.Section.At("host"), "two links lead to the same endpoint", $"{Quoted.Of(link.Host)} port {link.Port}", "one link an endpoint", "to put the devices of both on one link");
            }
        }

        var devices = new HashSet<(int Link, double UnitId)>();
        foreach (DeviceDraft device in site.Devices)
        {
            if (device.Link >= 0 && double.IsFinite(device.UnitId) && !devices.Add((device.Link, device.UnitId)))
            {
                faults.Add(device.Section.At("unitId"), "two devices have the same unit id on one link", $"{device.UnitId}", "each unit id once on a link", "to merge the two devices into one with one map");
            }
        }
    }
}
