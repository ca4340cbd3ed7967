namespace EdgeGuard.Service.Configuration.Drafts;

/// <summary>Resolves names: links of devices, devices of units; reports what names nothing and what nothing names.</summary>
internal static class ReferenceBinder
{
    public static void Bind(SiteDraft site, FaultList faults)
    {
        string[] links = [.. site.Links.Select(l => l.Name).OfType<string>()];
        foreach (DeviceDraft device in site.Devices)
        {
            device.Link = device.LinkName is null ? -1 : site.Links.ToList().FindIndex(l => string.Equals(l.Name, device.LinkName, StringComparison.Ordinal));
            if (device.LinkName is { } name && device.Link < 0)
            {
                Unknown(device.Section.At("link"), "link", name, links, faults);
            }

            device.OnSerialLine = device.Link >= 0 && (site.Links[device.Link].Transport != LinkTransport.Tcp || double.IsFinite(site.Links[device.Link].Baud));
        }

        string[] devices = [.. site.Devices.Select(d => d.Name).OfType<string>()];
        foreach (UnitDraft unit in site.Units)
        {
            unit.Controller = Device(site, unit, "controller", devices, faults);
            unit.Meter = Device(site, unit, "meter", devices, faults);
        }
    }

    /// <summary>To be called after points are bound: a device or link without use is a misspelt name in hiding.</summary>
    public static void ReportUnused(SiteDraft site, FaultList faults)
    {
        if (site.Units.Any(u => !u.BindingComplete))
        {
            return;
        }

        foreach (DeviceDraft device in site.Devices.Where(d => !d.Used && d.Name is not null))
        {
            faults.Add(device.Section.At("name"), "no unit uses this device", Quoted.Of(device.Name!), "every device named by a unit", "to name it as \"controller\" or \"meter\" of a unit, or to remove it");
        }

        // A device with a misspelt link is told already; that the link it means is used by none only follows from it.
        if (site.Devices.Any(static d => d.Link < 0))
        {
            return;
        }

        foreach (LinkDraft link in site.Links.Where((l, i) => l.Name is not null && site.Devices.All(d => d.Link != i)))
        {
            faults.Add(link.Section.At("name"), "no device uses this link", Quoted.Of(link.Name!), "every link named by a device", "to name it as \"link\" of a device, or to remove it");
        }
    }

    private static DeviceDraft? Device(SiteDraft site, UnitDraft unit, string key, string[] known, FaultList faults)
    {
        string? name = unit.Section.Text(key);
        DeviceDraft? device = site.FindDevice(name);
        if (device is not null)
        {
            device.Used = true;
            unit.BindingComplete &= device.Map is { Complete: true };
            return device;
        }

        unit.BindingComplete &= name is null && !unit.Section.Has(key) && key is "meter";
        if (name is not null)
        {
            Unknown(unit.Section.At(key), "device", name, known, faults);
        }

        return null;
    }

    private static void Unknown(TextPosition at, string kind, string name, string[] known, FaultList faults)
    {
        string expected = known.Length == 0 ? $"a {kind} of the list \"{kind}s\"" : "one of " + string.Join(", ", known.Select(Quoted.Of));
        faults.Add(at, $"unknown {kind}", Quoted.Of(name), expected, NearMiss.Advice(name, known, $"to add it to \"{kind}s\""));
    }
}
