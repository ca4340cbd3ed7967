using System.Formats.Asn1;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;

namespace EdgeGuard.OpcUa.Security;

/// <summary>
/// A certificate revocation list (RFC 5280, 5.1), read here because the platform takes no list from a file. Only complete
/// lists of the issuer itself are taken: one with a critical extension (delta, indirect, partial lists) is refused, because
/// reading it as complete would let a revoked certificate pass.
/// </summary>
public sealed class RevocationList
{
    /// <summary>Longest list that is looked at, bytes.</summary>
    public const int BytesMax = 4_194_304;

    private static readonly Asn1Tag ListExtensions = new(TagClass.ContextSpecific, 0);

    private readonly Dictionary<string, DateTime> _revoked = new(StringComparer.Ordinal);
    private byte[] _issuerDer = [];
    private byte[] _signedPart = [];
    private byte[] _signature = [];
    private string _signatureOid = "";

    private RevocationList()
    {
    }

    /// <summary>Issuer as text, made fit for a log.</summary>
    public string Issuer { get; private set; } = "";

    /// <summary>When it was issued, UTC.</summary>
    public DateTime ThisUpdateUtc { get; private set; }

    /// <summary>When the next one is due, UTC; null when it does not say.</summary>
    public DateTime? NextUpdateUtc { get; private set; }

    /// <summary>Number of revoked certificates.</summary>
    public int Count => _revoked.Count;

    /// <summary>Reads a list in DER form; null with the fault as a short phrase.</summary>
    public static RevocationList? TryRead(ReadOnlySpan<byte> der, out string fault)
    {
        if (der.Length is 0 or > BytesMax)
        {
            fault = der.IsEmpty ? "it is empty" : $"it has {der.Length} bytes, more than {BytesMax}";
            return null;
        }

        try
        {
            var list = new RevocationList();
            fault = list.Read(der.ToArray()) is { } oid ? $"its critical extension {oid} is not understood: only complete lists of the issuer itself are taken" : "";
            return fault.Length == 0 ? list : null;
        }
        catch (Exception e) when (e is AsnContentException or CryptographicException or ArgumentException or OverflowException)
        {
            fault = "it is no certificate revocation list in DER form";
            return null;
        }
    }

    /// <summary>Whether this issuer signed the list and may sign lists.</summary>
    public bool IsOf(CertificateFacts issuer)
    {
        ArgumentNullException.ThrowIfNull(issuer);
        bool maySign = issuer.KeyUsages is not { } usages || usages.HasFlag(X509KeyUsageFlags.CrlSign);
        return maySign && _issuerDer.AsSpan().SequenceEqual(issuer.SubjectDer) && RsaSignature.Verify(_signatureOid, issuer, _signedPart, _signature);
    }

    /// <summary>When the certificate was revoked, UTC; null when it is not listed.</summary>
    public DateTime? RevokedUtc(CertificateFacts certificate)
    {
        ArgumentNullException.ThrowIfNull(certificate);
        return _revoked.TryGetValue(certificate.Serial, out DateTime when) ? when : null;
    }

    // The object identifier of a critical extension that is not understood, or null.
    private string? Read(byte[] der)
    {
        var outer = new AsnReader(der, AsnEncodingRules.DER);
        AsnReader list = outer.ReadSequence();
        outer.ThrowIfNotEmpty();
        _signedPart = list.PeekEncodedValue().ToArray();
        AsnReader signed = list.ReadSequence();
        byte[] outerAlgorithm = list.PeekEncodedValue().ToArray();
        _signatureOid = CertificateParser.Algorithm(list);
        _signature = list.ReadBitString(out _);
        list.ThrowIfNotEmpty();
        if (signed.PeekTag().HasSameClassAndValue(Asn1Tag.Integer))
        {
            signed.ReadIntegerBytes();
        }

        if (!signed.ReadEncodedValue().Span.SequenceEqual(outerAlgorithm))
        {
            throw new AsnContentException("the signature algorithm is stated twice and not the same");
        }

        _issuerDer = signed.ReadEncodedValue().ToArray();
        Issuer = CertificateParser.Name(_issuerDer);
        ThisUpdateUtc = CertificateParser.Time(signed);
        NextUpdateUtc = signed.HasData && IsTime(signed.PeekTag()) ? CertificateParser.Time(signed) : null;
        string? critical = signed.HasData && signed.PeekTag().HasSameClassAndValue(Asn1Tag.Sequence) ? ReadEntries(signed.ReadSequence()) : null;
        if (signed.HasData)
        {
            critical ??= CriticalExtension(signed.ReadSequence(ListExtensions).ReadSequence());
        }

        signed.ThrowIfNotEmpty();
        return critical;
    }

    private string? ReadEntries(AsnReader entries)
    {
        string? critical = null;
        while (entries.HasData)
        {
            AsnReader entry = entries.ReadSequence();
            string serial = Convert.ToHexString(entry.ReadIntegerBytes().Span);
            _revoked[serial] = CertificateParser.Time(entry);
            if (entry.HasData)
            {
                critical ??= CriticalExtension(entry.ReadSequence());
            }
        }

        return critical;
    }

    private static string? CriticalExtension(AsnReader extensions)
    {
        while (extensions.HasData)
        {
            AsnReader extension = extensions.ReadSequence();
            string oid = extension.ReadObjectIdentifier();
            if (extension.PeekTag().HasSameClassAndValue(Asn1Tag.Boolean) && extension.ReadBoolean())
            {
                return oid;
            }
        }

        return null;
    }

    private static bool IsTime(Asn1Tag tag) => tag.HasSameClassAndValue(Asn1Tag.UtcTime) || tag.HasSameClassAndValue(Asn1Tag.GeneralizedTime);
}
