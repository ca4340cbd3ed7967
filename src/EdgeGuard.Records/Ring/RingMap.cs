using System.IO.MemoryMappedFiles;

namespace EdgeGuard.Records.Ring;

/// <summary>
/// A mapped file as bounds-checked spans and as 8-byte words that two processes may touch at once. Offsets outside
/// the map throw; so a damaged header can mislead a reader but never read foreign memory.
/// </summary>
internal sealed unsafe class RingMap : IDisposable
{
    private readonly MemoryMappedFile _file;
    private readonly MemoryMappedViewAccessor _view;
    private readonly byte* _start;
    private bool _disposed;

    public RingMap(string path, long bytes, bool write)
    {
        MemoryMappedFileAccess access = write ? MemoryMappedFileAccess.ReadWrite : MemoryMappedFileAccess.Read;
        var stream = new FileStream(path, FileMode.Open, write ? FileAccess.ReadWrite : FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
        try
        {
            _file = MemoryMappedFile.CreateFromFile(stream, null, write ? bytes : 0, access, HandleInheritability.None, leaveOpen: false);
        }
        catch
        {
            stream.Dispose();
            throw;
        }

        _view = _file.CreateViewAccessor(0, bytes, access);
        Bytes = bytes;
        _view.SafeMemoryMappedViewHandle.AcquirePointer(ref _start);
        _start += _view.PointerOffset;
    }

    public long Bytes { get; }

    public Span<byte> Span(long offset, int length)
    {
        Check(offset, length);
        return new Span<byte>(_start + offset, length);
    }

    public ref long Word(long offset)
    {
        Check(offset, sizeof(long));
        if ((offset & 7) != 0)
        {
            throw new ArgumentOutOfRangeException(nameof(offset), offset, "A shared word is aligned to 8 bytes.");
        }

        return ref *(long*)(_start + offset);
    }

    public void Dispose()
    {
        if (!_disposed)
        {
            _disposed = true;
            _view.SafeMemoryMappedViewHandle.ReleasePointer();
            _view.Dispose();
            _file.Dispose();
        }
    }

    private void Check(long offset, int length)
    {
        ObjectDisposedException.ThrowIf(_disposed, this);
        if (offset < 0 || length < 0 || offset > Bytes - length)
        {
            throw new ArgumentOutOfRangeException(nameof(offset), offset, "Outside the ring file.");
        }
    }
}
