namespace EdgeGuard.Publication.Pki;

/// <summary>The folders of certificates under the data folder, and how files in them are written: whole or not at all.</summary>
public sealed class PkiPaths
{
    private const UnixFileMode OwnerOnly = UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute;

    /// <summary>Names the folders; makes none of them.</summary>
    /// <param name="dataFolder">Data folder of the site.</param>
    public PkiPaths(string dataFolder)
    {
        Root = Path.Combine(dataFolder, "pki");
    }

    /// <summary>Folder of all.</summary>
    public string Root { get; }

    /// <summary>Own certificate and key; for the owner only.</summary>
    public string Own => Path.Combine(Root, "own");

    /// <summary>Trusted applications and trusted issuers.</summary>
    public string Trusted => Path.Combine(Root, "trusted");

    /// <summary>What was refused lately, with the cause.</summary>
    public string Rejected => Path.Combine(Root, "rejected");

    /// <summary>Issuers that complete chains without being trusted.</summary>
    public string Issuers => Path.Combine(Root, "issuers");

    /// <summary>Revocation lists.</summary>
    public string Crl => Path.Combine(Root, "crl");

    /// <summary>Trusted certificates of people and of issuers of such.</summary>
    public string Users => Path.Combine(Root, "users");

    /// <summary>Makes the folders that are missing.</summary>
    public void Create()
    {
        foreach (string folder in (ReadOnlySpan<string>)[Root, Trusted, Rejected, Issuers, Crl, Users])
        {
            Directory.CreateDirectory(folder);
        }

        if (OperatingSystem.IsWindows())
        {
            Directory.CreateDirectory(Own);
        }
        else
        {
            Directory.CreateDirectory(Own, OwnerOnly);
        }
    }

    /// <summary>Writes a file so that a reader sees the old or the new one, never a part; synced before it takes the name.</summary>
    /// <param name="path">The file.</param>
    /// <param name="bytes">Its content.</param>
    /// <param name="ownerOnly">Mode 0600, from the first moment on; otherwise 0644.</param>
    public static void WriteWhole(string path, ReadOnlySpan<byte> bytes, bool ownerOnly)
    {
        const UnixFileMode Secret = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        string next = $"{path}.{Environment.ProcessId}.new";
        var options = new FileStreamOptions { Mode = FileMode.Create, Access = FileAccess.Write };
        if (!OperatingSystem.IsWindows())
        {
            options.UnixCreateMode = ownerOnly ? Secret : Secret | UnixFileMode.GroupRead | UnixFileMode.OtherRead;
        }

        try
        {
            using (var file = new FileStream(next, options))
            {
                file.Write(bytes);
                file.Flush(flushToDisk: true);
            }

            File.Move(next, path, overwrite: true);
        }
        finally
        {
            File.Delete(next);
        }
    }
}
