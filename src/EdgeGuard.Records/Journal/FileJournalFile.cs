using Microsoft.Win32.SafeHandles;

namespace EdgeGuard.Records.Journal;

/// <summary>A file on a real disk, written at explicit offsets without a buffer of its own.</summary>
internal sealed class FileJournalFile : IJournalFile
{
    private readonly SafeFileHandle _handle;

    public FileJournalFile(string path) =>
        _handle = File.OpenHandle(path, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.Read | FileShare.Delete);

    public void Write(long offset, ReadOnlySpan<byte> bytes) => RandomAccess.Write(_handle, bytes, offset);

    public void SetLength(long length) => RandomAccess.SetLength(_handle, length);

    public void Sync() => RandomAccess.FlushToDisk(_handle);

    public void Dispose() => _handle.Dispose();
}
