using System.Text;

namespace EdgeGuard.Records.Journal;

/// <summary>Reads the lines of a journal for showing them. It believes nothing and verifies nothing: that is <see cref="JournalVerifier"/>.</summary>
public static class JournalReader
{
    /// <summary>All lines in order.</summary>
    /// <param name="storage">The journal's folder.</param>
    /// <returns>File, line in it, and the record; null for a line that cannot be read.</returns>
    public static IEnumerable<(string File, int Line, JournalRecord? Record)> Read(IJournalStorage storage)
    {
        ArgumentNullException.ThrowIfNull(storage);
        return Segments(storage).SelectMany(name => Lines(storage, name));
    }

    /// <summary>Lines of the segments in which the latest run wrote, in order; lines of the run before it may come first. However long the journal is, older segments are not read.</summary>
    /// <param name="storage">The journal's folder.</param>
    /// <returns>As <see cref="Read"/>.</returns>
    public static IEnumerable<(string File, int Line, JournalRecord? Record)> ReadLatestRun(IJournalStorage storage)
    {
        ArgumentNullException.ThrowIfNull(storage);
        string[] names = [.. Segments(storage)];
        int first = names.Length - 1;
        string? latest = first < 0 ? null : RunOf(Lines(storage, names[first]).Reverse());
        while (first > 0 && (RunOf(Lines(storage, names[first])) ?? latest) == latest)
        {
            first--;
        }

        return names.Skip(first).SelectMany(name => Lines(storage, name));
    }

    private static IEnumerable<string> Segments(IJournalStorage storage) => storage.List().Where(static name => JournalNames.SegmentOf(name) > 0);

    // Of the first line that can be read; null where there is none.
    private static string? RunOf(IEnumerable<(string File, int Line, JournalRecord? Record)> lines) =>
        lines.Select(static l => l.Record?["run"]).FirstOrDefault(static run => run is not null);

    private static IEnumerable<(string File, int Line, JournalRecord? Record)> Lines(IJournalStorage storage, string name)
    {
        int number = 0;
        foreach (string line in Encoding.UTF8.GetString(storage.Read(name)).Split('\n', StringSplitOptions.RemoveEmptyEntries))
        {
            number++;
            int tab = line.LastIndexOf('\t');
            yield return (name, number, tab < 0 ? null : JournalRecord.Parse(Encoding.UTF8.GetBytes(line[..tab])));
        }
    }

    /// <summary>Finds the journal from a site folder, a data folder or the journal folder itself.</summary>
    /// <param name="folder">Any of the three.</param>
    /// <returns>The journal folder, or null when none of them holds a segment or a head.</returns>
    public static string? Find(string folder)
    {
        foreach (string candidate in (string[])[Path.Combine(folder, "data", "journal"), Path.Combine(folder, "journal"), folder])
        {
            using var storage = new FileJournalStorage(candidate);
            foreach (string name in storage.List())
            {
                if (JournalNames.SegmentOf(name) > 0 || string.Equals(name, JournalNames.Head, StringComparison.Ordinal))
                {
                    return candidate;
                }
            }
        }

        return null;
    }
}
