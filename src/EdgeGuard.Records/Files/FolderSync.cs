using System.Runtime.InteropServices;

namespace EdgeGuard.Records.Files;

/// <summary>
/// Syncs a folder. On Linux a new file's name is durable only after fsync of its folder (fsync(2): "Calling fsync()
/// does not necessarily ensure that the entry in the directory containing the file has also reached disk"), and .NET
/// opens no folders, so the calls go to libc. Elsewhere the file system journals names itself.
/// </summary>
internal static class FolderSync
{
    private const int ReadOnlyDirectory = 0x10000 | 0x80000; // O_DIRECTORY | O_CLOEXEC on x64
    private const int ReadOnlyDirectoryArm = 0x4000 | 0x80000; // the same on arm and arm64

    public static void Sync(string folder)
    {
        if (!OperatingSystem.IsLinux())
        {
            return;
        }

        bool arm = RuntimeInformation.ProcessArchitecture is Architecture.Arm64 or Architecture.Arm;
        int descriptor = LibcFile.Open(folder, arm ? ReadOnlyDirectoryArm : ReadOnlyDirectory, mode: 0);
        if (descriptor < 0)
        {
            throw new IOException($"{folder}: cannot be opened to sync it (errno {Marshal.GetLastPInvokeError()})");
        }

        int result = LibcFile.Fsync(descriptor);
        int error = Marshal.GetLastPInvokeError();
        _ = LibcFile.Close(descriptor);
        if (result != 0)
        {
            throw new IOException($"{folder}: fsync failed (errno {error})");
        }
    }
}
