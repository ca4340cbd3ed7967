using System.Globalization;
using System.Text;
using EdgeGuard.Service.Configuration.Maps;

namespace EdgeGuard.Service.Configuration.Drafts;

// A snapshot holds the registers of every setting of a device as they were at commissioning, one setting a line:
// name,registers,reading. The registers decide, in hexadecimal; the reading is for people. A snapshot that does not fit
// the map is a fault: half a comparison would look like a whole one.

/// <summary>Reads the snapshot of the settings of every device that names one.</summary>
internal static class SnapshotLoader
{
    public const string Header = "name,registers,reading";

    public static void Load(SiteDraft site, string folder, FaultList faults)
    {
        foreach (DeviceDraft device in site.Devices.Where(d => d.SettingsFile is not null && d.Map is { Complete: true }))
        {
            LoadOne(device, folder, faults);
        }
    }

    private static void LoadOne(DeviceDraft device, string folder, FaultList faults)
    {
        string file = device.SettingsFile!;
        TextPosition at = device.Section.At("settings");
        RegisterPoint[] settings = [.. device.Map!.Points.Where(p => p.Setting)];
        if (settings.Length == 0)
        {
            faults.Add(at, "the map names no setting to compare", Quoted.Of(file), $"points with role \"{RoleFacts.Setting}\" in {device.Map.File}", "to give the registers of input type, range, filter, burn-out, ramp, output limit and watchdog time that role");
            return;
        }

        if (!file.EndsWith(".csv", StringComparison.Ordinal) || !PlainName.IsOne(file[..^4]))
        {
            faults.Add(at, "the snapshot is no file of the site folder", Quoted.Of(file), "the name of a .csv file without a path", "the name that \"edgeguard probe --snapshot\" wrote");
            return;
        }

        byte[]? bytes = BoundedFile.Read(Path.Combine(folder, file), out string? why);
        if (bytes is null)
        {
            faults.Add(at, $"the snapshot cannot be read: {why}", Quoted.Of(file), "a file in the site folder", $"edgeguard probe --site FOLDER --device {device.Name} --snapshot {file}");
            return;
        }

        Dictionary<string, ushort[]> found = Parse(file, Encoding.UTF8.GetString(bytes), settings, faults);
        foreach (RegisterPoint point in settings.Where(p => !found.ContainsKey(p.Name)))
        {
            faults.Add(at, $"the snapshot lacks the setting {Quoted.Of(point.Name)}", Quoted.Of(file), "every point with role \"setting\" of the map", "to take the snapshot again");
        }

        device.Commissioned = found;
    }

    private static Dictionary<string, ushort[]> Parse(string file, string text, RegisterPoint[] settings, FaultList faults)
    {
        var found = new Dictionary<string, ushort[]>(StringComparer.Ordinal);
        int number = 0;
        foreach (string raw in text.Split('\n'))
        {
            number++;
            string line = raw.Trim();
            if (line.Length == 0 || line[0] == '#' || string.Equals(line, Header, StringComparison.Ordinal))
            {
                continue;
            }

            var at = new TextPosition(file, number, 1);
            string[] cells = line.Split(',');
            RegisterPoint? point = settings.FirstOrDefault(p => string.Equals(p.Name, cells[0], StringComparison.Ordinal));
            if (point is null)
            {
                faults.Add(at, "the snapshot names a setting that the map lacks", Quoted.Of(cells[0]), "points with role \"setting\" of the map", "to take the snapshot again");
            }
            else if (cells.Length < 2 || !TryWords(cells[1], point.WordCount, out ushort[] words) || !found.TryAdd(point.Name, words))
            {
                faults.Add(at, "a line of the snapshot cannot be used", Quoted.Of(line), $"{Quoted.Of(point.Name)} once, with {point.WordCount} registers of four hexadecimal digits", "to take the snapshot again");
            }
        }

        return found;
    }

    private static bool TryWords(string text, int count, out ushort[] words)
    {
        string[] parts = text.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        words = new ushort[parts.Length];
        for (int i = 0; i < parts.Length; i++)
        {
            if (parts[i].Length != 4 || !ushort.TryParse(parts[i], NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture, out words[i]))
            {
                return false;
            }
        }

        return parts.Length == count;
    }
}
