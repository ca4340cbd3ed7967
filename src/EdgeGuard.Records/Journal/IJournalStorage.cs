namespace EdgeGuard.Records.Journal;

/// <summary>
/// What the journal needs of a disk, and no more, so that a test can stand in for one that fails, tears a write or
/// forgets what was never synced. Every member may throw <see cref="IOException"/> or
/// <see cref="UnauthorizedAccessException"/>; the journal treats both as "cannot be written now".
/// </summary>
public interface IJournalStorage : IDisposable
{
    /// <summary>Names of all files in the folder, ordinal order; empty when the folder does not exist.</summary>
    IReadOnlyList<string> List();

    /// <summary>Reads a whole file.</summary>
    /// <param name="name">File name without folder.</param>
    byte[] Read(string name);

    /// <summary>Opens a file for writing, creating it (and the folder) when missing.</summary>
    /// <param name="name">File name without folder.</param>
    IJournalFile Open(string name);

    /// <summary>Makes creation of files durable: syncs the folder itself.</summary>
    void SyncFolder();
}
