using EdgeGuard.Service.Configuration.Maps;

namespace EdgeGuard.Service.Configuration.Drafts;

/// <summary>Reads the register map of every device, each file once.</summary>
internal static class MapLoader
{
    public static void Load(SiteDraft site, string folder, FaultList faults)
    {
        var read = new Dictionary<string, RegisterMap?>(StringComparer.Ordinal);
        foreach (DeviceDraft device in site.Devices)
        {
            if (device.MapFile is not { } file)
            {
                continue;
            }

            if (!read.TryGetValue(file, out RegisterMap? map))
            {
                map = Read(file, folder, device, faults);
                read.Add(file, map);
            }

            device.Map = map;
        }
    }

    private static RegisterMap? Read(string file, string folder, DeviceDraft device, FaultList faults)
    {
        TextPosition at = device.Section.At("map");
        bool plain = file.EndsWith(".csv", StringComparison.Ordinal) && PlainName.IsOne(file[..^4]);
        if (!plain)
        {
            faults.Add(at, "the register map is no file of the site folder", Quoted.Of(file), "the name of a .csv file without a path", "to copy the map into the site folder");
            return null;
        }

        byte[]? bytes = BoundedFile.Read(Path.Combine(folder, file), out string? why);
        if (bytes is null)
        {
            string advice = File.Exists(Path.Combine(folder, file))
                ? "to look at owner, rights and size of the file, or to run this as another user"
                : NearMiss.Advice(file, BoundedFile.Names(folder, "*.csv"), "to put the map there or to correct its name");
            faults.Add(at, $"the register map cannot be read: {why}", Quoted.Of(file), "a file in the site folder", advice);
            return null;
        }

        return RegisterMapReader.Read(file, bytes, faults);
    }
}
