namespace EdgeGuard.Service.Configuration;

/// <summary>Reads a file of a site folder whole, within a limit.</summary>
internal static class BoundedFile
{
    private const long LargestBytes = 1 << 20;
    private const int MostNames = 50;

    /// <summary>The bytes; null with the reason as a short phrase when they cannot be had.</summary>
    public static byte[]? Read(string path, out string? why)
    {
        why = null;
        try
        {
            if (!File.Exists(path))
            {
                why = Directory.Exists(path) ? "it is a folder" : "no such file";
                return null;
            }

            if (new FileInfo(path).Length > LargestBytes)
            {
                why = $"it is larger than {LargestBytes} bytes";
                return null;
            }

            return File.ReadAllBytes(path);
        }
        catch (IOException)
        {
            why = "the disk reports an error";
        }
        catch (UnauthorizedAccessException)
        {
            why = "no permission to read it";
        }

        return null;
    }

    /// <summary>Names of files in a folder, for suggestions; empty when it cannot be listed.</summary>
    public static string[] Names(string folder, string pattern)
    {
        try
        {
            return [.. Directory.EnumerateFiles(folder, pattern).Take(MostNames).Select(f => Path.GetFileName(f)).Order(StringComparer.Ordinal)];
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return [];
        }
    }
}
