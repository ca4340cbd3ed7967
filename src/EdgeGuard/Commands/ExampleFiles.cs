namespace EdgeGuard.Commands;

/// <summary>Files of config/pilot-hall carried inside the program, so that `init` and `demo` need no repository.</summary>
internal static class ExampleFiles
{
    public const string SiteFile = "site.json";
    public const string CabinetMap = "cabinet.csv";
    public const string MeterMap = "meter.csv";

    /// <summary>Text of one file of the pilot hall.</summary>
    public static string Read(string name)
    {
        using Stream stream = typeof(ExampleFiles).Assembly.GetManifestResourceStream("pilot-hall/" + name)
            ?? throw new InvalidOperationException($"The program was built without its example file {name}.");
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd();
    }

    /// <summary>Writes the whole pilot hall into a folder.</summary>
    public static void WritePilotHall(string folder)
    {
        foreach (string name in new[] { SiteFile, CabinetMap, MeterMap })
        {
            File.WriteAllText(Path.Combine(folder, name), Read(name));
        }
    }
}
