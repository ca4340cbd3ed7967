using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using System.Text;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Security;

namespace EdgeGuard.Publication.Pki;

/// <summary>
/// The own certificate with its key: one PEM file of mode 0600, so that both change together, and a copy of the certificate
/// alone for clients. Made at first start and kept; a new one only by command, because every client that trusts this server
/// has to trust the new one.
/// </summary>
public static class OwnCertificateFolder
{
    /// <summary>File with certificate and key.</summary>
    public const string PairFile = "own.pem";

    /// <summary>File with the certificate alone, DER.</summary>
    public const string CopyFile = "edgeguard.der";

    private const UnixFileMode Others = UnixFileMode.GroupRead | UnixFileMode.GroupWrite | UnixFileMode.GroupExecute | UnixFileMode.OtherRead | UnixFileMode.OtherWrite | UnixFileMode.OtherExecute;

    /// <summary>The certificate with its key; made when there is none. Throws <see cref="PkiException"/>.</summary>
    public static X509Certificate2 LoadOrCreate(PkiPaths paths, OwnCertificateOptions options, DateTime utcNow)
    {
        ArgumentNullException.ThrowIfNull(paths);
        paths.Create();
        string path = Path.Combine(paths.Own, PairFile);
        return File.Exists(path) ? Load(path) : Renew(paths, options, utcNow);
    }

    /// <summary>Makes a new key and certificate in place of the old ones.</summary>
    public static X509Certificate2 Renew(PkiPaths paths, OwnCertificateOptions options, DateTime utcNow)
    {
        ArgumentNullException.ThrowIfNull(paths);
        ArgumentNullException.ThrowIfNull(options);
        paths.Create();
        X509Certificate2 made = ApplicationCertificate.CreateSelfSigned(options.CommonName, options.ApplicationUri, options.DnsNames, options.Addresses, utcNow, options.ValidDays, options.KeyBits);
        using RSA key = made.GetRSAPrivateKey()!;
        byte[] pair = Encoding.ASCII.GetBytes(made.ExportCertificatePem() + "\n" + key.ExportPkcs8PrivateKeyPem() + "\n");
        try
        {
            PkiPaths.WriteWhole(Path.Combine(paths.Own, PairFile), pair, ownerOnly: true);
            PkiPaths.WriteWhole(Path.Combine(paths.Own, CopyFile), made.RawData, ownerOnly: false);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            made.Dispose();
            throw new PkiException($"{paths.Own}: the certificate cannot be written ({e.Message}); try as the user the publisher runs as", e);
        }
        finally
        {
            CryptographicOperations.ZeroMemory(pair);
        }

        return made;
    }

    /// <summary>The own certificate without its key, for display; null with the fault when there is none.</summary>
    public static CertificateFacts? TryShow(PkiPaths paths, out string fault)
    {
        ArgumentNullException.ThrowIfNull(paths);
        string path = Path.Combine(paths.Own, CopyFile);
        fault = "none yet: it is made when the publisher first starts, or by edgeguard certs renew";
        return File.Exists(path) ? CertificateFile.TryReadCertificate(path, out fault) : null;
    }

    private static X509Certificate2 Load(string path)
    {
        if (!OperatingSystem.IsWindows() && (File.GetUnixFileMode(path) & Others) != UnixFileMode.None)
        {
            throw new PkiException($"{path}: the private key is open to others: found mode {Convert.ToString((int)File.GetUnixFileMode(path), 8)}; expected 600; if nobody can have copied it try chmod 600, otherwise edgeguard certs renew");
        }

        try
        {
            X509Certificate2 loaded = X509Certificate2.CreateFromPemFile(path);
            CheckKey(loaded, path);
            return loaded;
        }
        catch (Exception e) when (e is CryptographicException or IOException or UnauthorizedAccessException or ArgumentException)
        {
            throw new PkiException($"{path}: certificate and key cannot be read ({e.Message}); try edgeguard certs renew", e);
        }
    }

    private static void CheckKey(X509Certificate2 certificate, string path)
    {
        using RSA? key = certificate.GetRSAPrivateKey();
        if (key is null || key.KeySize is < 2048 or > 4096)
        {
            certificate.Dispose();
            throw new PkiException($"{path}: found {(key is null ? "no RSA key" : $"an RSA key of {key.KeySize} bits")}; expected RSA with 2048 to 4096 bits; try edgeguard certs renew");
        }
    }
}
