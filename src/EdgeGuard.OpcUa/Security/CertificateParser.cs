using System.Formats.Asn1;
using System.Net;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;

namespace EdgeGuard.OpcUa.Security;

/// <summary>
/// Reads a certificate (RFC 5280, 4.1) strictly: DER, no trailing bytes, both signature algorithms equal, no extension
/// twice. Throws AsnContentException or CryptographicException; <see cref="CertificateFacts.TryRead"/> catches them.
/// </summary>
internal static class CertificateParser
{
    private const string RsaKey = "1.2.840.113549.1.1.1";
    private const int NamesMax = 200;
    private static readonly Asn1Tag Version = new(TagClass.ContextSpecific, 0);
    private static readonly Asn1Tag Extensions = new(TagClass.ContextSpecific, 3);
    private static readonly Asn1Tag DnsName = new(TagClass.ContextSpecific, 2);
    private static readonly Asn1Tag UriName = new(TagClass.ContextSpecific, 6);
    private static readonly Asn1Tag AddressName = new(TagClass.ContextSpecific, 7);
    private static readonly Asn1Tag KeyId = new(TagClass.ContextSpecific, 0);

    public static CertificateFacts Read(byte[] der)
    {
        var outer = new AsnReader(der, AsnEncodingRules.DER);
        AsnReader certificate = outer.ReadSequence();
        outer.ThrowIfNotEmpty();
        var facts = new CertificateFacts(der) { SignedPart = certificate.PeekEncodedValue().ToArray() };
        AsnReader signed = certificate.ReadSequence();
        byte[] outerAlgorithm = certificate.PeekEncodedValue().ToArray();
        facts.SignatureOid = Algorithm(certificate);
        facts.Signature = certificate.ReadBitString(out _);
        certificate.ThrowIfNotEmpty();
        ReadSigned(signed, facts, outerAlgorithm);
        return facts;
    }

    /// <summary>A Time of RFC 5280, 4.1.2.5: two digits of the year below 50 belong to this century.</summary>
    public static DateTime Time(AsnReader reader) => reader.PeekTag().HasSameClassAndValue(Asn1Tag.UtcTime)
        ? reader.ReadUtcTime(2049).UtcDateTime
        : reader.ReadGeneralizedTime().UtcDateTime;

    /// <summary>Object identifier of an AlgorithmIdentifier.</summary>
    public static string Algorithm(AsnReader reader) => reader.ReadSequence().ReadObjectIdentifier();

    /// <summary>A distinguished name as text.</summary>
    public static string Name(byte[] der) => CertificateText.Of(new X500DistinguishedName(der).Name);

    private static void ReadSigned(AsnReader signed, CertificateFacts facts, byte[] outerAlgorithm)
    {
        if (signed.PeekTag().HasSameClassAndValue(Version))
        {
            signed.ReadEncodedValue();
        }

        facts.Serial = Convert.ToHexString(signed.ReadIntegerBytes().Span);
        if (!signed.ReadEncodedValue().Span.SequenceEqual(outerAlgorithm))
        {
            throw new AsnContentException("the signature algorithm is stated twice and not the same");
        }

        facts.IssuerDer = signed.ReadEncodedValue().ToArray();
        AsnReader validity = signed.ReadSequence();
        facts.NotBeforeUtc = Time(validity);
        facts.NotAfterUtc = Time(validity);
        facts.SubjectDer = signed.ReadEncodedValue().ToArray();
        facts.PublicKeyInfo = signed.ReadEncodedValue().ToArray();
        (facts.Issuer, facts.Subject, facts.KeyBits) = (Name(facts.IssuerDer), Name(facts.SubjectDer), KeyBits(facts.PublicKeyInfo));
        while (signed.HasData)
        {
            if (signed.PeekTag().HasSameClassAndValue(Extensions))
            {
                ReadExtensions(signed.ReadSequence(Extensions).ReadSequence(), facts);
            }
            else
            {
                signed.ReadEncodedValue();
            }
        }
    }

    private static int KeyBits(byte[] info)
    {
        if (!string.Equals(Algorithm(new AsnReader(info, AsnEncodingRules.DER).ReadSequence()), RsaKey, StringComparison.Ordinal))
        {
            return 0;
        }

        using var key = RSA.Create();
        key.ImportSubjectPublicKeyInfo(info, out _);
        return key.KeySize;
    }

    private static void ReadExtensions(AsnReader list, CertificateFacts facts)
    {
        var seen = new HashSet<string>(StringComparer.Ordinal);
        while (list.HasData)
        {
            AsnReader extension = list.ReadSequence();
            string oid = extension.ReadObjectIdentifier();
            bool critical = extension.PeekTag().HasSameClassAndValue(Asn1Tag.Boolean) && extension.ReadBoolean();
            byte[] value = extension.ReadOctetString();
            if (!seen.Add(oid))
            {
                throw new AsnContentException("an extension appears twice");
            }

            if (!Take(oid, value, facts) && critical)
            {
                facts.UnknownCriticalOid ??= oid;
            }
        }
    }

    private static bool Take(string oid, byte[] value, CertificateFacts facts)
    {
        switch (oid)
        {
            case "2.5.29.15":
                facts.KeyUsages = new X509KeyUsageExtension(new AsnEncodedData(oid, value), critical: false).KeyUsages;
                return true;
            case "2.5.29.19":
                var constraints = new X509BasicConstraintsExtension(new AsnEncodedData(oid, value), critical: false);
                facts.IsAuthority = constraints.CertificateAuthority;
                facts.PathLengthMax = constraints.HasPathLengthConstraint ? constraints.PathLengthConstraint : null;
                return true;
            case "2.5.29.37":
                facts.EnhancedUsages = [.. new X509EnhancedKeyUsageExtension(new AsnEncodedData(oid, value), critical: false).EnhancedKeyUsages.Cast<Oid>().Select(static u => u.Value ?? "")];
                return true;
            case "2.5.29.17":
                ReadNames(new AsnReader(value, AsnEncodingRules.DER).ReadSequence(), facts);
                return true;
            case "2.5.29.14":
                facts.SubjectKeyId = new AsnReader(value, AsnEncodingRules.DER).ReadOctetString();
                return true;
            case "2.5.29.35":
                AsnReader identifier = new AsnReader(value, AsnEncodingRules.DER).ReadSequence();
                facts.AuthorityKeyId = identifier.HasData && identifier.PeekTag().HasSameClassAndValue(KeyId) ? identifier.ReadOctetString(KeyId) : null;
                return true;
            default:
                return false;
        }
    }

    // RFC 5280, 4.2.1.6: dNSName [2] and uniformResourceIdentifier [6] are IA5String, iPAddress [7] four or sixteen bytes.
    private static void ReadNames(AsnReader names, CertificateFacts facts)
    {
        var uris = new List<string>();
        var hosts = new List<string>();
        while (names.HasData && uris.Count + hosts.Count < NamesMax)
        {
            Asn1Tag tag = names.PeekTag();
            if (tag.HasSameClassAndValue(UriName))
            {
                uris.Add(names.ReadCharacterString(UniversalTagNumber.IA5String, UriName));
            }
            else if (tag.HasSameClassAndValue(DnsName))
            {
                hosts.Add(CertificateText.Of(names.ReadCharacterString(UniversalTagNumber.IA5String, DnsName)));
            }
            else if (tag.HasSameClassAndValue(AddressName))
            {
                byte[] address = names.ReadOctetString(AddressName);
                hosts.Add(address.Length is 4 or 16 ? new IPAddress(address).ToString() : Convert.ToHexString(address));
            }
            else
            {
                names.ReadEncodedValue();
            }
        }

        (facts.Uris, facts.HostNames) = (uris, hosts);
    }
}
