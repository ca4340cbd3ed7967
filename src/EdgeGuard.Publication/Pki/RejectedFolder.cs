using System.Globalization;
using System.Text;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Security;

namespace EdgeGuard.Publication.Pki;

/// <summary>
/// Keeps the certificates refused last, each with its cause beside it, so that they can be looked at and trusted. Bounded
/// in number and in writes a second: strangers must not fill the disk nor wear it, and a flood of certificates is
/// counted, not kept. Safe for several threads.
/// </summary>
public sealed class RejectedFolder
{
    /// <summary>Most certificates that are kept; the one refused longest ago gives way.</summary>
    public const int KeptMax = 50;

    private const long AgainMs = 60_000;
    private const long WriteEveryMs = 1000;
    private const int WritesInAdvance = 10;
    private const int CauseBytesMax = 4096;
    private const string CauseExtension = ".txt";

    private readonly Lock _gate = new();
    private readonly string _folder;
    private readonly Dictionary<string, (string Cause, long Ms)> _kept = new(StringComparer.Ordinal);
    private long _paidUntilMs = long.MinValue;

    /// <summary>Takes the folder.</summary>
    public RejectedFolder(string folder)
    {
        _folder = folder;
    }

    /// <summary>Refused certificates that were not kept because too many came at once.</summary>
    public long Dropped { get; private set; }

    /// <summary>Keeps a certificate. The same one with the same cause is written once a minute at most. A disk that fails loses only this.</summary>
    public void Keep(CertificateFacts certificate, CertificateVerdict verdict, DateTime utcNow, long monotonicMs)
    {
        ArgumentNullException.ThrowIfNull(certificate);
        string cause = verdict.Cause ?? "";
        lock (_gate)
        {
            if (_kept.TryGetValue(certificate.Thumbprint, out (string Cause, long Ms) kept) && monotonicMs - kept.Ms < AgainMs && string.Equals(kept.Cause, cause, StringComparison.Ordinal))
            {
                return;
            }

            if (!MayWrite(monotonicMs))
            {
                Dropped++;
                return;
            }

            if (_kept.Count >= KeptMax * 2)
            {
                _kept.Clear();
            }

            _kept[certificate.Thumbprint] = (cause, monotonicMs);
            try
            {
                Write(certificate, verdict.Status, cause, utcNow);
                Trim();
            }
            catch (Exception e) when (e is IOException or UnauthorizedAccessException)
            {
                Dropped++;
            }
        }
    }

    /// <summary>What is kept, newest first.</summary>
    public IReadOnlyList<RejectedCertificate> List()
    {
        var list = new List<RejectedCertificate>();
        foreach (FileInfo file in Files())
        {
            if (CertificateFile.TryReadCertificate(file.FullName, out _) is { } certificate)
            {
                string[] lines = Cause(file.FullName);
                list.Add(new RejectedCertificate(certificate, file.LastWriteTimeUtc, lines[0], lines[1]));
            }
        }

        return list;
    }

    /// <summary>Forgets a certificate; false when it is not kept.</summary>
    public bool Remove(string thumbprint)
    {
        lock (_gate)
        {
            string path = Path.Combine(_folder, thumbprint + ".der");
            bool found = File.Exists(path);
            _kept.Remove(thumbprint);
            File.Delete(path);
            File.Delete(Path.ChangeExtension(path, CauseExtension));
            return found;
        }
    }

    // Ten at once, then one a second.
    private bool MayWrite(long nowMs)
    {
        long from = Math.Max(_paidUntilMs, nowMs - (WritesInAdvance * WriteEveryMs));
        if (from + WriteEveryMs > nowMs)
        {
            return false;
        }

        _paidUntilMs = from + WriteEveryMs;
        return true;
    }

    private void Write(CertificateFacts certificate, OpcUa.StatusCode status, string cause, DateTime utcNow)
    {
        string path = Path.Combine(_folder, certificate.Thumbprint + ".der");
        string text = string.Create(CultureInfo.InvariantCulture, $"{status}\n{cause}\nlast refused {utcNow:yyyy-MM-dd HH:mm:ss}Z\n");
        PkiPaths.WriteWhole(Path.ChangeExtension(path, CauseExtension), Encoding.UTF8.GetBytes(text), ownerOnly: false);
        PkiPaths.WriteWhole(path, certificate.Der, ownerOnly: false);
    }

    private void Trim()
    {
        foreach (FileInfo file in Files().Skip(KeptMax))
        {
            file.Delete();
            File.Delete(Path.ChangeExtension(file.FullName, CauseExtension));
        }
    }

    private IEnumerable<FileInfo> Files() => new DirectoryInfo(_folder) is { Exists: true } folder
        ? folder.EnumerateFiles("*.der").OrderByDescending(static f => f.LastWriteTimeUtc)
        : [];

    private static string[] Cause(string certificatePath)
    {
        try
        {
            var file = new FileInfo(Path.ChangeExtension(certificatePath, CauseExtension));
            string[] lines = file.Length <= CauseBytesMax ? File.ReadAllLines(file.FullName) : [];
            return lines.Length >= 2 ? lines : ["unknown", "the cause was not kept"];
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return ["unknown", "the cause was not kept"];
        }
    }
}
