namespace EdgeGuard.Records.Recorder;

/// <summary>
/// Keeps the folder of recordings within its bound: the oldest files go, the one being written never. A clock that was set
/// back gives the newer file the older time, so within a run the number in the name decides, and the run that writes is
/// the newest of all.
/// </summary>
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
        var begun = new Dictionary<string, DateTime>(StringComparer.Ordinal);
        foreach (FileInfo file in files)
        {
            DateTime time = file.CreationTimeUtc;
            begun[RunOf(file.Name)] = begun.TryGetValue(RunOf(file.Name), out DateTime first) && first < time ? first : time;
        }

        files.Sort((a, b) =>
        {
            int byTime = begun[RunOf(a.Name)].CompareTo(begun[RunOf(b.Name)]);
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
        ArgumentNullException.ThrowIfNull(keep);
        IReadOnlyList<string> files = List(folder);
        long total = 0;
        foreach (string file in files)
        {
            total += new FileInfo(file).Length;
        }

        foreach (string file in files.OrderBy(f => IsOfRun(f, keep))) // the sort is stable: false before true, else as listed
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

    // tail-RUN-NUMBER.bin: everything before the number.
    private static string RunOf(string name) => name[..name.LastIndexOf('-')];

    private static bool IsOfRun(string file, string keep) => string.Equals(RunOf(Path.GetFileName(file)), RunOf(keep), StringComparison.Ordinal);
}
