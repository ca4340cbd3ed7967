using EdgeGuard.Service.Configuration.Maps;

namespace EdgeGuard.Service.Configuration.Drafts;

// By convention a point plays the role that its map states, for the unit that names its device as controller or
// meter. "signals" and "commands" of a unit override the convention with "device.point". A writable point whose role
// is the read-back of a command is that command.

/// <summary>Binds points of devices to the roles of units.</summary>
internal static class PointBinder
{
    public static void Bind(SiteDraft site, FaultList faults)
    {
        foreach (UnitDraft unit in site.Units)
        {
            foreach (RoleFact role in RoleFacts.All)
            {
                BindSignal(site, unit, role, faults);
            }

            foreach (CommandFact command in CommandFacts.All)
            {
                BindCommand(site, unit, command, faults);
            }
        }
    }

    private static void BindSignal(SiteDraft site, UnitDraft unit, RoleFact role, FaultList faults)
    {
        if (unit.Signals.Has(role.Name))
        {
            if (Named(site, unit, unit.Signals, role.Name, role, faults) is { } named)
            {
                unit.BoundSignals.Add(role.Role, named);
            }

            return;
        }

        BoundPoint? controller = ByConvention(unit.Controller, role);
        BoundPoint? meter = ReferenceEquals(unit.Meter, unit.Controller) ? null : ByConvention(unit.Meter, role);
        if (controller is not null && meter is not null)
        {
            faults.Add(unit.Section.Place, $"two points offer the role \"{role.Name}\"", $"{controller.Description}; {meter.Description}", "one point a role", $"\"signals\": {{ \"{role.Name}\": \"{controller.Device.Name}.{controller.Point.Name}\" }}");
        }

        if ((controller ?? meter) is { } bound)
        {
            unit.BoundSignals.Add(role.Role, bound);
        }
    }

    private static void BindCommand(SiteDraft site, UnitDraft unit, CommandFact command, FaultList faults)
    {
        RoleFact role = RoleFacts.Of(command.ReadBack);
        if (!unit.Commands.Has(command.Name))
        {
            if (unit.BoundSignals.TryGetValue(command.ReadBack, out BoundPoint? readBack) && readBack.Point.Writable)
            {
                unit.BoundCommands.Add(command.Role, readBack);
            }

            return;
        }

        if (Named(site, unit, unit.Commands, command.Name, role, faults) is not { } named)
        {
            return;
        }

        if (!named.Point.Writable)
        {
            faults.Add(unit.Commands.At(command.Name), $"the point of the command \"{command.Name}\" cannot be written", named.Description, "a point with access \"rw\"", "another point, or access \"rw\" if the device allows it");
            return;
        }

        unit.BoundCommands.Add(command.Role, named);
    }

    private static BoundPoint? ByConvention(DeviceDraft? device, RoleFact role)
    {
        RegisterPoint? point = device?.Map?.Points.FirstOrDefault(p => p.Role?.Role == role.Role);
        return point is null ? null : new BoundPoint(device!, point, role.Dimension);
    }

    private static BoundPoint? Named(SiteDraft site, UnitDraft unit, Section section, string key, RoleFact role, FaultList faults)
    {
        if (section.Text(key) is not { } text)
        {
            unit.BindingComplete = false;
            return null;
        }

        string[] parts = text.Split('.');
        DeviceDraft? device = site.FindDevice(parts[0]);
        RegisterPoint? point = parts.Length == 2 ? device?.Map?.Find(parts[1]) : null;
        if (device is not null)
        {
            device.Used = true;
        }

        if (point is not null)
        {
            RowMeaning.CheckRole(point, role, faults);
            return new BoundPoint(device!, point, role.Dimension);
        }

        unit.BindingComplete = false;
        if (device is null || device.Map is { Complete: true })
        {
            string[] known = [.. site.Devices.SelectMany(d => d.Map?.Points.Select(p => $"{d.Name}.{p.Name}") ?? [])];
            faults.Add(section.At(key), $"unknown point for \"{key}\"", Quoted.Of(text), "\"DEVICE.POINT\" with a device of \"devices\" and a point of its map", NearMiss.Advice(text, known, "to look up the point in the map of the device"));
        }

        return null;
    }
}
