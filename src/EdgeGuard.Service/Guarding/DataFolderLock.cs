namespace EdgeGuard.Service.Guarding;

/// <summary>
/// One guard per data folder: two of them would fight over the same cabinets and the same journal. The lock is the
/// kernel's lock on an open file, so it goes with the process, however that ends.
/// </summary>
internal sealed class DataFolderLock : IDisposable
{
    public const string FileName = "guard.lock";

    private readonly FileStream _file;

    private DataFolderLock(FileStream file) => _file = file;

    /// <summary>Takes the lock; null when another process holds it.</summary>
    /// <exception cref="UnauthorizedAccessException">The folder may not be written.</exception>
    /// <exception cref="DirectoryNotFoundException">The folder does not exist.</exception>
    public static DataFolderLock? TryTake(string dataFolder)
    {
        try
        {
            return new DataFolderLock(new FileStream(Path.Combine(dataFolder, FileName), FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None));
        }
        catch (IOException e) when (e is not (DirectoryNotFoundException or PathTooLongException or FileNotFoundException))
        {
            return null;
        }
    }

    public void Dispose() => _file.Dispose();
}
