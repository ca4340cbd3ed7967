using System.Formats.Asn1;
using System.Security.Cryptography.X509Certificates;

namespace EdgeGuard.OpcUa.Sessions;

/// <summary>URIs among the alternative names of a certificate (RFC 5280, 4.2.1.6: uniformResourceIdentifier is [6] IA5String).</summary>
internal static class CertificateNames
{
    private const string AlternativeNameOid = "2.5.29.17";
    private static readonly Asn1Tag UriTag = new(TagClass.ContextSpecific, 6);

    public static bool HasUri(X509Certificate2 certificate, string? uri)
    {
        foreach (X509Extension extension in certificate.Extensions)
        {
            if (string.Equals(extension.Oid?.Value, AlternativeNameOid, StringComparison.Ordinal))
            {
                return HasUri(extension.RawData, uri);
            }
        }

        return false;
    }

    private static bool HasUri(byte[] names, string? uri)
    {
        try
        {
            AsnReader sequence = new AsnReader(names, AsnEncodingRules.DER).ReadSequence();
            while (sequence.HasData)
            {
                if (sequence.PeekTag().HasSameClassAndValue(UriTag))
                {
                    if (string.Equals(sequence.ReadCharacterString(UniversalTagNumber.IA5String, UriTag), uri, StringComparison.Ordinal))
                    {
                        return true;
                    }
                }
                else
                {
                    sequence.ReadEncodedValue();
                }
            }
        }
        catch (AsnContentException)
        {
            return false;
        }

        return false;
    }
}
