using EdgeGuard.Records.Journal;

namespace EdgeGuard.Acceptance.Tests.Rigs;

/// <summary>The journal of a data folder as a list.</summary>
internal static class JournalLines
{
    public static IReadOnlyList<JournalRecord> Read(string dataFolder)
    {
        using var storage = new FileJournalStorage(Path.Combine(dataFolder, "journal"));
        return [.. JournalReader.Read(storage).Select(static l => l.Record ?? throw new InvalidDataException($"{l.File}:{l.Line} cannot be read"))];
    }

    /// <summary>The entries of the newest run, in order.</summary>
    public static IReadOnlyList<JournalRecord> LastRun(string dataFolder)
    {
        IReadOnlyList<JournalRecord> all = Read(dataFolder);
        string? run = all[^1]["run"];
        return [.. all.Where(r => r["run"] == run)];
    }
}
