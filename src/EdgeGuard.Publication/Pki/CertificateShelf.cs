using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Security;

namespace EdgeGuard.Publication.Pki;

/// <summary>What a person does with certificates: look, trust, reject. The running publisher sees it within a second.</summary>
public sealed class CertificateShelf
{
    private const int PrefixDigitsMin = 8;
    private const int ThumbprintDigits = 40;

    private readonly PkiPaths _paths;

    /// <summary>Makes the folders that are missing.</summary>
    public CertificateShelf(PkiPaths paths)
    {
        ArgumentNullException.ThrowIfNull(paths);
        _paths = paths;
        paths.Create();
    }

    /// <summary>All certificates of a folder, by file name.</summary>
    public IReadOnlyList<StoredCertificate> List(ShelfPlace place)
    {
        var list = new List<StoredCertificate>();
        foreach (string path in Directory.EnumerateFiles(Folder(place)).Order(StringComparer.Ordinal).Take(TrustFolders.FilesMax))
        {
            if (!path.EndsWith(".txt", StringComparison.Ordinal) && CertificateFile.TryReadCertificate(path, out _) is { } certificate)
            {
                list.Add(new StoredCertificate(place, path, certificate));
            }
        }

        return list;
    }

    /// <summary>Certificates whose thumbprint is, or begins with, the given digits (at least eight). The same one may stand in several folders.</summary>
    public IReadOnlyList<StoredCertificate> Find(string thumbprint)
    {
        ArgumentNullException.ThrowIfNull(thumbprint);
        string digits = thumbprint.Replace(":", "", StringComparison.Ordinal).Replace(" ", "", StringComparison.Ordinal).ToUpperInvariant();
        return digits.Length is < PrefixDigitsMin or > ThumbprintDigits || !digits.All(char.IsAsciiHexDigitUpper)
            ? []
            : [.. Enum.GetValues<ShelfPlace>().SelectMany(List).Where(c => c.Certificate.Thumbprint.StartsWith(digits, StringComparison.Ordinal))];
    }

    /// <summary>Puts a certificate into a folder of trust and takes it out of the rejected ones.</summary>
    public void Trust(CertificateFacts certificate, ShelfPlace place)
    {
        ArgumentNullException.ThrowIfNull(certificate);
        if (place == ShelfPlace.Rejected)
        {
            throw new ArgumentOutOfRangeException(nameof(place));
        }

        PkiPaths.WriteWhole(Path.Combine(Folder(place), certificate.Thumbprint + ".der"), certificate.Der, ownerOnly: false);
        new RejectedFolder(_paths.Rejected).Remove(certificate.Thumbprint);
    }

    /// <summary>Takes a certificate out of all folders of trust, however its files are named, and keeps it among the rejected ones; false when it stood in none.</summary>
    public bool Reject(CertificateFacts certificate, DateTime utcNow)
    {
        ArgumentNullException.ThrowIfNull(certificate);
        bool found = false;
        foreach (StoredCertificate stored in ((ReadOnlySpan<ShelfPlace>)[ShelfPlace.Trusted, ShelfPlace.Issuers, ShelfPlace.Users]).ToArray().SelectMany(List))
        {
            if (stored.Certificate.Der.AsSpan().SequenceEqual(certificate.Der))
            {
                File.Delete(stored.Path);
                found = true;
            }
        }

        if (found)
        {
            new RejectedFolder(_paths.Rejected).Keep(certificate, CertificateVerdict.Refuse(StatusCode.BadCertificateUntrusted, "trust was taken away by command"), utcNow, monotonicMs: 0);
        }

        return found;
    }

    /// <summary>Puts a revocation list into its folder in place of the older one of the same issuer.</summary>
    public void Add(RevocationList list, ReadOnlySpan<byte> bytes)
    {
        ArgumentNullException.ThrowIfNull(list);
        string name = Convert.ToHexString(System.Security.Cryptography.SHA256.HashData(System.Text.Encoding.UTF8.GetBytes(list.Issuer)))[..ThumbprintDigits];
        PkiPaths.WriteWhole(Path.Combine(_paths.Crl, name + ".crl"), bytes, ownerOnly: false);
    }

    private string Folder(ShelfPlace place) => place switch
    {
        ShelfPlace.Trusted => _paths.Trusted,
        ShelfPlace.Issuers => _paths.Issuers,
        ShelfPlace.Users => _paths.Users,
        _ => _paths.Rejected,
    };
}
