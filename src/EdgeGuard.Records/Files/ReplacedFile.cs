using System.Runtime.InteropServices;

namespace EdgeGuard.Records.Files;

/// <summary>
/// A small file that is replaced whole, again and again: written under another name, synced, moved into place, the folder
/// synced; so after a power cut there is the old one or the new one and never a half. On Linux the calls go to libc:
/// .NET makes an object of each file it opens, and the guard that saves its figures every minute allocates nothing.
/// </summary>
internal sealed class ReplacedFile
{
    // O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, the same numbers on x64 and arm64 (asm-generic/fcntl.h).
    private const int WriteNew = 0x1 | 0x40 | 0x200 | 0x80000;
    private const int OwnerWrites = 0x1A4; // 0644, less the umask

    private const int Interrupted = 4; // EINTR

    private readonly string _folder;
    private readonly string _path;
    private readonly string _made;
    private bool _folderMade;

    /// <summary>Names the file; nothing is touched yet.</summary>
    /// <param name="folder">Its folder; made at the first write.</param>
    /// <param name="name">Its name.</param>
    public ReplacedFile(string folder, string name)
    {
        _folder = folder;
        _path = Path.Combine(folder, name);
        _made = _path + ".new";
    }

    /// <summary>Makes the folder, so that the first write allocates no more than the others. What hinders it is told by the write.</summary>
    public void Prepare()
    {
        try
        {
            MakeFolder();
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            _folderMade = false;
        }
    }

    /// <summary>Replaces it. On Linux nothing is allocated once the folder is there.</summary>
    /// <param name="bytes">The whole of it.</param>
    /// <exception cref="IOException">It could not be written; the file before it stands.</exception>
    /// <exception cref="UnauthorizedAccessException">The folder may not be written.</exception>
    public void Replace(ReadOnlySpan<byte> bytes)
    {
        if (!_folderMade)
        {
            MakeFolder();
        }

        try
        {
            if (OperatingSystem.IsLinux())
            {
                ReplaceByLibc(bytes);
            }
            else
            {
                ReplaceByRuntime(bytes);
            }
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            _folderMade = false; // perhaps the folder is gone: the next try makes it again
            throw;
        }
    }

    private void MakeFolder()
    {
        Directory.CreateDirectory(_folder);
        _folderMade = true;
    }

    private void ReplaceByLibc(ReadOnlySpan<byte> bytes)
    {
        int descriptor = LibcFile.Open(_made, WriteNew, OwnerWrites);
        if (descriptor < 0)
        {
            throw Failed("cannot be opened for writing");
        }

        try
        {
            WriteAll(descriptor, bytes);
            if (LibcFile.Fsync(descriptor) != 0)
            {
                throw Failed("cannot be synced");
            }
        }
        finally
        {
            _ = LibcFile.Close(descriptor);
        }

        if (LibcFile.Rename(_made, _path) != 0)
        {
            throw Failed("cannot be moved into place");
        }

        FolderSync.Sync(_folder);
    }

    private void WriteAll(int descriptor, ReadOnlySpan<byte> bytes)
    {
        while (!bytes.IsEmpty)
        {
            nint written = LibcFile.Write(descriptor, ref MemoryMarshal.GetReference(bytes), (nuint)bytes.Length);
            if (written > 0)
            {
                bytes = bytes[(int)written..];
            }
            else if (written == 0 || Marshal.GetLastPInvokeError() != Interrupted)
            {
                throw Failed("cannot be written");
            }
        }
    }

    private void ReplaceByRuntime(ReadOnlySpan<byte> bytes)
    {
        using (Microsoft.Win32.SafeHandles.SafeFileHandle handle = File.OpenHandle(_made, FileMode.Create, FileAccess.Write))
        {
            RandomAccess.Write(handle, bytes, 0);
            RandomAccess.FlushToDisk(handle);
        }

        File.Move(_made, _path, overwrite: true);
        FolderSync.Sync(_folder);
    }

    private IOException Failed(string what)
    {
        int error = Marshal.GetLastPInvokeError();
        return new IOException($"{_made}: {what} ({Marshal.GetPInvokeErrorMessage(error)})");
    }
}
