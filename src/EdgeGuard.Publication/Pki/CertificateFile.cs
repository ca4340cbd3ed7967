using System.Security.Cryptography;
using System.Text;
using EdgeGuard.OpcUa.Security;

namespace EdgeGuard.Publication.Pki;

/// <summary>Reads a certificate or a revocation list from a file, in DER or in PEM form, within a limit.</summary>
public static class CertificateFile
{
    private const string CertificateLabel = "CERTIFICATE";
    private const string ListLabel = "X509 CRL";
    private const int PemFactor = 2;

    /// <summary>The certificate; null with the fault as a short phrase.</summary>
    public static CertificateFacts? TryReadCertificate(string path, out string fault)
    {
        byte[]? der = Read(path, CertificateFacts.BytesMax, CertificateLabel, out fault);
        return der is null ? null : CertificateFacts.TryRead(der, out fault);
    }

    /// <summary>The revocation list; null with the fault as a short phrase.</summary>
    public static RevocationList? TryReadList(string path, out string fault)
    {
        byte[]? der = Read(path, RevocationList.BytesMax, ListLabel, out fault);
        return der is null ? null : RevocationList.TryRead(der, out fault);
    }

    private static byte[]? Read(string path, int bytesMax, string label, out string fault)
    {
        fault = "";
        try
        {
            using var file = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
            if (file.Length > PemFactor * (long)bytesMax)
            {
                fault = $"it has {file.Length} bytes, more than any that is taken";
                return null;
            }

            byte[] bytes = new byte[file.Length];
            file.ReadExactly(bytes);
            return bytes.AsSpan().StartsWith("-----"u8) || bytes.AsSpan().IndexOf("-----BEGIN "u8) >= 0 ? FromPem(bytes, label, out fault) : bytes;
        }
        catch (IOException)
        {
            fault = "it cannot be read";
        }
        catch (UnauthorizedAccessException)
        {
            fault = "no permission to read it";
        }

        return null;
    }

    // The first block with the label; other blocks, even a key, are passed over.
    private static byte[]? FromPem(byte[] bytes, string label, out string fault)
    {
        fault = "";
        ReadOnlySpan<char> text = Encoding.Latin1.GetString(bytes);
        while (PemEncoding.TryFind(text, out PemFields fields))
        {
            if (text[fields.Label].SequenceEqual(label))
            {
                byte[] der = new byte[fields.DecodedDataLength];
                return Convert.TryFromBase64Chars(text[fields.Base64Data], der, out int written) && written == der.Length ? der : null;
            }

            text = text[fields.Location.End..];
        }

        fault = $"it has no PEM block {label}";
        return null;
    }
}
