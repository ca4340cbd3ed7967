using Microsoft.Win32.SafeHandles;

namespace EdgeGuard.Records.Journal;

/// <summary>
/// A file on a real disk, written at explicit offsets without a buffer of its own. An open file outlives its name: lines
/// written to one that was deleted, moved away or cut by somebody else would be on the disk for nobody, so both count as
/// failures, as a full disk does.
/// </summary>
internal sealed class FileJournalFile : IJournalFile
{
    private readonly string _path;
    private readonly SafeFileHandle _handle;

    public FileJournalFile(string path)
    {
        _path = path;
        _handle = File.OpenHandle(path, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.Read | FileShare.Delete);
    }

    public void Write(long offset, ReadOnlySpan<byte> bytes)
    {
        CheckLength(offset);
        RandomAccess.Write(_handle, bytes, offset);
    }

    public void SetLength(long length)
    {
        CheckLength(length);
        RandomAccess.SetLength(_handle, length);
    }

    public void Sync()
    {
        RandomAccess.FlushToDisk(_handle);
        if (!File.Exists(_path))
        {
            throw new IOException($"{_path}: the file is not there any more, though it was open; put it back, or start the guard again");
        }
    }

    public void Dispose() => _handle.Dispose();

    // Nothing of the journal is ever written beyond the end of a file; a hole would hide what was cut off.
    private void CheckLength(long expected)
    {
        long found = RandomAccess.GetLength(_handle);
        if (found < expected)
        {
            throw new IOException($"{_path}: found {found} bytes; expected at least {expected}, which were on the disk before; put the file back, or start the guard again");
        }
    }
}
