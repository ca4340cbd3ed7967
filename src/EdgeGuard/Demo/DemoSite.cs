using System.Globalization;
using EdgeGuard.Commands;

namespace EdgeGuard.Demo;

/// <summary>Writes the pilot hall's site folder out of the binary, with the ports the virtual plant has taken.</summary>
internal static class DemoSite
{
    // Ports of the example as it stands in config/pilot-hall, in the order of its units.
    private static readonly string[] ExamplePorts = ["15020", "15021"];

    /// <summary>Writes the folder and returns its path.</summary>
    public static string Write(string folder, IReadOnlyList<int> ports)
    {
        Directory.CreateDirectory(folder);
        ExampleFiles.WritePilotHall(folder);
        string path = Path.Combine(folder, ExampleFiles.SiteFile);
        string text = File.ReadAllText(path);
        for (int i = 0; i < ExamplePorts.Length; i++)
        {
            text = text.Replace("\"port\": " + ExamplePorts[i], "\"port\": " + ports[i].ToString(CultureInfo.InvariantCulture), StringComparison.Ordinal);
        }

        File.WriteAllText(path, text);
        return folder;
    }
}
