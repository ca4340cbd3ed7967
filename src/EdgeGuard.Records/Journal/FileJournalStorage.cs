using EdgeGuard.Records.Files;

namespace EdgeGuard.Records.Journal;

/// <summary>
/// The journal's folder on a real disk. The first file opened for writing also takes an exclusive lock on the file
/// `lock`, so that two guards can never continue the same chain; the lock goes with the process, also with kill -9.
/// </summary>
public sealed class FileJournalStorage : IJournalStorage
{
    private readonly string _folder;
    private FileStream? _lock;

    /// <summary>Names the folder; nothing is touched yet.</summary>
    /// <param name="folder">Folder of the journal; created at the first write.</param>
    public FileJournalStorage(string folder)
    {
        ArgumentException.ThrowIfNullOrEmpty(folder);
        _folder = folder;
    }

    /// <inheritdoc/>
    public IReadOnlyList<string> List()
    {
        if (!Directory.Exists(_folder))
        {
            return [];
        }

        string[] names = Directory.GetFiles(_folder);
        for (int i = 0; i < names.Length; i++)
        {
            names[i] = Path.GetFileName(names[i]);
        }

        Array.Sort(names, StringComparer.Ordinal);
        return names;
    }

    /// <inheritdoc/>
    public byte[] Read(string name)
    {
        // The writer may hold the file open, so the reader shares it for writing.
        using var stream = new FileStream(Path.Combine(_folder, name), FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
        if (stream.Length > JournalNames.FileBytesMax)
        {
            throw new InvalidDataException($"{Path.Combine(_folder, name)}: {stream.Length} bytes; a file of the journal has at most {JournalNames.FileBytesMax}; it was not written by the guard");
        }

        byte[] bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }

    /// <inheritdoc/>
    public IJournalFile Open(string name)
    {
        TakeLock();
        return new FileJournalFile(Path.Combine(_folder, name));
    }

    /// <inheritdoc/>
    public void SyncFolder() => FolderSync.Sync(_folder);

    /// <inheritdoc/>
    public void Dispose()
    {
        _lock?.Dispose();
        _lock = null;
    }

    private void TakeLock()
    {
        if (_lock is not null)
        {
            return;
        }

        Directory.CreateDirectory(_folder); // once: a folder that vanishes later is a failure and not a new journal
        string path = Path.Combine(_folder, JournalNames.Lock);
        try
        {
            _lock = new FileStream(path, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
        }
        catch (IOException e)
        {
            throw new IOException($"{path}: cannot be locked ({e.Message}); another guard may be running on the same data folder", e);
        }
    }
}
