namespace EdgeGuard.Acceptance.Tests.Rigs;

/// <summary>Reads a text file, such as a log, that another process is writing.</summary>
internal static class SharedText
{
    /// <summary>What stands in it now.</summary>
    public static string Read(string path)
    {
        using var reader = new StreamReader(new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite));
        return reader.ReadToEnd();
    }
}
