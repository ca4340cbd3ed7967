using System.Globalization;
using System.Reflection;

namespace EdgeGuard.Demo;

/// <summary>Writes the pilot hall's site folder out of the binary, with the ports the virtual plant has taken.</summary>
internal static class DemoSite
{
    private static readonly string[] Files = ["site.json", "cabinet.csv", "meter.csv"];

    // Ports of the example as it stands in config/pilot-hall, in the order of its units.
    private static readonly string[] ExamplePorts = ["15020", "15021"];

    /// <summary>Writes the folder and returns its path.</summary>
    public static string Write(string folder, IReadOnlyList<int> ports)
    {
        Directory.CreateDirectory(folder);
        foreach (string file in Files)
        {
            string text = Read("pilot-hall/" + file);
            for (int i = 0; i < ExamplePorts.Length; i++)
            {
                text = text.Replace("\"port\": " + ExamplePorts[i], "\"port\": " + ports[i].ToString(CultureInfo.InvariantCulture), StringComparison.Ordinal);
            }

            // The schema lies beside the example, not beside this copy.
            File.WriteAllText(Path.Combine(folder, file), text.Replace("  \"$schema\": \"../site.schema.json\",\n", "", StringComparison.Ordinal));
        }

        return folder;
    }

    private static string Read(string name)
    {
        using Stream stream = Assembly.GetExecutingAssembly().GetManifestResourceStream(name) ?? throw new InvalidOperationException($"resource {name} is missing");
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd();
    }
}
