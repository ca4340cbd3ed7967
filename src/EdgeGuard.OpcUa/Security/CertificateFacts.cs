using System.Formats.Asn1;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;

namespace EdgeGuard.OpcUa.Security;

/// <summary>
/// What the rules need to know of a certificate, read once into managed memory. Only what is written here decides; the
/// fields keep their DER form where they are compared or verified.
/// </summary>
public sealed class CertificateFacts
{
    /// <summary>Longest certificate that is looked at, bytes.</summary>
    public const int BytesMax = 32_768;

    internal CertificateFacts(byte[] der)
    {
        Der = der;

        // SHA-1 as an identifier only, as OPC 10000-6, 6.7.2.3 has it; trust compares all bytes.
#pragma warning disable CA5350
        Thumbprint = Convert.ToHexString(SHA1.HashData(der));
#pragma warning restore CA5350
    }

    /// <summary>The certificate alone, DER.</summary>
    public byte[] Der { get; }

    /// <summary>SHA-1 over the DER form, 40 upper-case hexadecimal digits.</summary>
    public string Thumbprint { get; }

    /// <summary>Subject as text, made fit for a log.</summary>
    public string Subject { get; internal set; } = "";

    /// <summary>Issuer as text, made fit for a log.</summary>
    public string Issuer { get; internal set; } = "";

    /// <summary>First moment of validity, UTC.</summary>
    public DateTime NotBeforeUtc { get; internal set; }

    /// <summary>Last moment of validity, UTC.</summary>
    public DateTime NotAfterUtc { get; internal set; }

    /// <summary>Length of the RSA key in bits; 0 for another kind of key.</summary>
    public int KeyBits { get; internal set; }

    /// <summary>Object identifier of the signature algorithm.</summary>
    public string SignatureOid { get; internal set; } = "";

    /// <summary>Key usages; null when the certificate does not restrict them.</summary>
    public X509KeyUsageFlags? KeyUsages { get; internal set; }

    /// <summary>Enhanced key usages by object identifier; null when the certificate does not restrict them.</summary>
    public IReadOnlyList<string>? EnhancedUsages { get; internal set; }

    /// <summary>Whether it may issue certificates (basic constraints).</summary>
    public bool IsAuthority { get; internal set; }

    /// <summary>Issuers that may stand between it and the end of the chain; null without bound.</summary>
    public int? PathLengthMax { get; internal set; }

    /// <summary>URIs among the alternative names; the first is the application URI. As written, not made fit for a log.</summary>
    public IReadOnlyList<string> Uris { get; internal set; } = [];

    /// <summary>The application URI made fit for a log; null when there is none.</summary>
    public string? PrintableUri => Uris.Count == 0 ? null : CertificateText.Of(Uris[0]);

    /// <summary>Name of the signature algorithm for people.</summary>
    public string SignatureName => RsaSignature.Name(SignatureOid);

    /// <summary>Host names and addresses among the alternative names.</summary>
    public IReadOnlyList<string> HostNames { get; internal set; } = [];

    /// <summary>Whether issuer and subject are the same.</summary>
    public bool IsSelfIssued => SubjectDer.AsSpan().SequenceEqual(IssuerDer);

    internal string Serial { get; set; } = "";

    internal byte[] SubjectDer { get; set; } = [];

    internal byte[] IssuerDer { get; set; } = [];

    internal byte[] PublicKeyInfo { get; set; } = [];

    internal byte[] SignedPart { get; set; } = [];

    internal byte[] Signature { get; set; } = [];

    internal byte[]? SubjectKeyId { get; set; }

    internal byte[]? AuthorityKeyId { get; set; }

    /// <summary>A critical extension that nobody here understands: such a certificate must be refused (RFC 5280, 4.2).</summary>
    internal string? UnknownCriticalOid { get; set; }

    /// <summary>Reads one certificate; null with the fault as a short phrase.</summary>
    public static CertificateFacts? TryRead(ReadOnlySpan<byte> der, out string fault)
    {
        if (der.Length is 0 or > BytesMax)
        {
            fault = der.IsEmpty ? "it is empty" : $"it has {der.Length} bytes, more than {BytesMax}";
            return null;
        }

        try
        {
            fault = "";
            return CertificateParser.Read(der.ToArray());
        }
        catch (Exception e) when (e is AsnContentException or CryptographicException or ArgumentException or OverflowException)
        {
            fault = "it is no X.509 certificate in DER form";
            return null;
        }
    }

    /// <summary>Whether the issuer's key made this signature. False too for an algorithm that is not accepted.</summary>
    public bool IsSignedBy(CertificateFacts issuer)
    {
        ArgumentNullException.ThrowIfNull(issuer);
        return IssuerDer.AsSpan().SequenceEqual(issuer.SubjectDer) && RsaSignature.Verify(SignatureOid, issuer, SignedPart, Signature);
    }
}
