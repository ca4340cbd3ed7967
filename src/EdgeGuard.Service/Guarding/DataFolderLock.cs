namespace EdgeGuard.Service.Guarding;

/// <summary>
/// One guard per data folder: two of them would fight over the same cabinets and the same journal. The lock is the
/// kernel's lock on an open file, so it goes with the process, however that ends.
/// </summary>
internal sealed class DataFolderLock : IDisposable
{
    public const string FileName = "guard.lock";

    // How the runtime reports a lock that another process holds: the EWOULDBLOCK of flock(2) on Linux and on macOS, and
    // ERROR_SHARING_VIOLATION. Any other fault (a full or a read-only disk) is told as what it is.
    private static readonly int[] Held = [11, 35, unchecked((int)0x80070020)];

    private readonly FileStream _file;

    private DataFolderLock(FileStream file) => _file = file;

    /// <summary>Takes the lock; null when another process holds it.</summary>
    /// <exception cref="UnauthorizedAccessException">The folder may not be written.</exception>
    /// <exception cref="IOException">The folder does not exist, or its disk takes no file.</exception>
    public static DataFolderLock? TryTake(string dataFolder)
    {
        try
        {
            return new DataFolderLock(new FileStream(Path.Combine(dataFolder, FileName), FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None));
        }
        catch (IOException e) when (Held.Contains(e.HResult))
        {
            return null;
        }
    }

    public void Dispose() => _file.Dispose();
}
