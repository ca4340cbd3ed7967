namespace EdgeGuard.Records.Recorder;

/// <summary>Keeps the folder of recordings within its bound: the oldest files go, the one being written never.</summary>
public static class RawTailFolder
{
    /// <summary>Recordings in the folder, oldest first.</summary>
    /// <param name="folder">The folder.</param>
    public static IReadOnlyList<string> List(string folder)
    {
        if (!Directory.Exists(folder))
        {
            return [];
        }

        var files = new List<FileInfo>(new DirectoryInfo(folder).GetFiles("tail-*.bin"));
        files.Sort(static (a, b) =>
        {
            int byTime = a.CreationTimeUtc.CompareTo(b.CreationTimeUtc);
            return byTime != 0 ? byTime : string.CompareOrdinal(a.Name, b.Name);
        });
        return files.ConvertAll(static f => f.FullName);
    }

    /// <summary>Deletes the oldest recordings until the rest is within a bound.</summary>
    /// <param name="folder">The folder.</param>
    /// <param name="bytesMax">Bytes all recordings may take.</param>
    /// <param name="keep">Name of the file being written.</param>
    public static void Trim(string folder, long bytesMax, string keep)
    {
        IReadOnlyList<string> files = List(folder);
        long total = 0;
        foreach (string file in files)
        {
            total += new FileInfo(file).Length;
        }

        foreach (string file in files)
        {
            if (total <= bytesMax)
            {
                return;
            }

            if (!string.Equals(Path.GetFileName(file), keep, StringComparison.Ordinal))
            {
                total -= new FileInfo(file).Length;
                File.Delete(file);
            }
        }
    }
}
