using EdgeGuard.OpcUa.Security;

namespace EdgeGuard.Publication.Pki;

/// <summary>
/// Whom to trust, read from the folders and read again when a file appears, changes or goes: looked at on use, at most once
/// a second. A file that cannot be used is passed over and told; a folder that cannot be read trusts nobody. Safe for
/// several threads.
/// </summary>
public sealed class TrustFolders
{
    /// <summary>Most files that are read in one folder.</summary>
    public const int FilesMax = 500;

    private const long LookAgainMs = 1000;

    private readonly Lock _gate = new();
    private readonly string _trusted;
    private readonly PkiPaths _paths;
    private readonly Action<string>? _note;
    private TrustTable _table = TrustTable.Empty;
    private List<FileMark>? _marks;
    private long _lookedMs;

    /// <summary>Takes the folders; nothing is read yet.</summary>
    /// <param name="paths">The folders.</param>
    /// <param name="trusted">The folder of whom to trust: <see cref="PkiPaths.Trusted"/> or <see cref="PkiPaths.Users"/>.</param>
    /// <param name="note">Is told once of each change and of each file that cannot be used.</param>
    public TrustFolders(PkiPaths paths, string trusted, Action<string>? note = null)
    {
        (_paths, _trusted, _note) = (paths, trusted, note);
    }

    /// <summary>Whom to trust now.</summary>
    /// <param name="monotonicMs">Time of a clock that never steps.</param>
    public TrustTable Current(long monotonicMs)
    {
        lock (_gate)
        {
            if (_marks is not null && monotonicMs - _lookedMs < LookAgainMs)
            {
                return _table;
            }

            _lookedMs = monotonicMs;
            List<FileMark> marks = [.. Marks(_trusted), .. Marks(_paths.Issuers), .. Marks(_paths.Crl)];
            if (_marks is null || !marks.SequenceEqual(_marks))
            {
                (_marks, _table) = (marks, Load(marks));
                Tell();
            }

            return _table;
        }
    }

    private void Tell()
    {
        _note?.Invoke($"{_trusted}: {_table.Trusted.Count} trusted, {_table.Issuers.Count} issuers, {_table.RevocationLists.Count} revocation lists");
        foreach (string note in _table.Notes)
        {
            _note?.Invoke(note);
        }
    }

    private static List<FileMark> Marks(string folder)
    {
        try
        {
            // An unfinished file of a writer ends in .new; hidden files are those of editors.
            return [.. new DirectoryInfo(folder).EnumerateFiles().Where(static f => f.Extension != ".new" && f.Name[0] != '.').Take(FilesMax).Select(static f => new FileMark(f.FullName, f.Length, f.LastWriteTimeUtc.Ticks)).OrderBy(static m => m.Path, StringComparer.Ordinal)];
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return [new FileMark(folder, -1, 0)];
        }
    }

    private TrustTable Load(List<FileMark> marks)
    {
        var trusted = new List<CertificateFacts>();
        var issuers = new List<CertificateFacts>();
        var lists = new List<RevocationList>();
        var notes = new List<string>();
        foreach (FileMark mark in marks)
        {
            string fault = "the folder cannot be read";
            string? folder = Path.GetDirectoryName(mark.Path);
            bool used = mark.Bytes >= 0 && (string.Equals(folder, _paths.Crl, StringComparison.Ordinal)
                ? Add(lists, CertificateFile.TryReadList(mark.Path, out fault))
                : Add(string.Equals(folder, _trusted, StringComparison.Ordinal) ? trusted : issuers, CertificateFile.TryReadCertificate(mark.Path, out fault)));
            if (!used)
            {
                notes.Add($"{mark.Path}: not used: {fault}");
            }
        }

        return new TrustTable { Trusted = trusted, Issuers = issuers, RevocationLists = lists, Notes = notes };
    }

    private static bool Add<T>(List<T> list, T? item)
        where T : class
    {
        if (item is not null)
        {
            list.Add(item);
        }

        return item is not null;
    }

    private readonly record struct FileMark(string Path, long Bytes, long WrittenTicks);
}
