namespace EdgeGuard.Acceptance.Tests.Rigs;

/// <summary>
/// A folder of one test. With EDGEGUARD_KEEP=1 in the environment it stays, so that logs, journal and ledger can be
/// looked at. The name is short: the path of the request socket may have 107 bytes.
/// </summary>
internal sealed class TestFolder : IDisposable
{
    public TestFolder() => Path = Directory.CreateTempSubdirectory("eg-").FullName;

    public string Path { get; }

    public string File(string name) => System.IO.Path.Combine(Path, name);

    /// <summary>What stands now in a file of it that another process is writing.</summary>
    public string ReadShared(string name) => SharedText.Read(File(name));

    public void Dispose()
    {
        if (Environment.GetEnvironmentVariable("EDGEGUARD_KEEP") is not { Length: > 0 })
        {
            Directory.Delete(Path, recursive: true);
        }
    }
}
