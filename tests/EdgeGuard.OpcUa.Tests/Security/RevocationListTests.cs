using System.Formats.Asn1;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using EdgeGuard.OpcUa.Security;

namespace EdgeGuard.OpcUa.Tests.Security;

/// <summary>Reading revocation lists (RFC 5280, 5). The outside check with lists of another program is in <see cref="OpenSslTests"/>.</summary>
public sealed class RevocationListTests
{
    [Fact]
    public void A_list_is_read_whole()
    {
        using X509Certificate2 root = CertificateMaker.Root.SelfSigned();
        RevocationList list = Hall.Read(Hall.List(root, 30, [1, 7], [0x7F], [0, 0x80]));
        Assert.Equal(3, list.Count);
        Assert.Equal("CN=hall root", list.Issuer);
        Assert.Equal(CertificateMaker.Now.AddDays(-100), list.ThisUpdateUtc);
        Assert.Equal(CertificateMaker.Now.AddDays(30), list.NextUpdateUtc);
        Assert.True(list.IsOf(CertificateMaker.Facts(root)));
        CertificateFacts high = CertificateMaker.Facts(new CertificateMaker().Request().Create(root, CertificateMaker.At(CertificateMaker.Now), CertificateMaker.At(CertificateMaker.Now.AddDays(1)), [0x80]));
        Assert.Equal(CertificateMaker.Now.AddDays(-2), list.RevokedUtc(high));
    }

    [Fact]
    public void Partial_lists_are_refused_because_they_would_let_a_revoked_certificate_pass()
    {
        // Delta CRL indicator (RFC 5280, 5.2.4), critical; refused before the signature is looked at.
        byte[] list = WithCriticalExtension();
        Assert.Null(RevocationList.TryRead(list, out string fault));
        Assert.Contains("critical extension 2.5.29.27", fault, StringComparison.Ordinal);
    }

    [Fact]
    public void A_changed_entry_breaks_the_signature()
    {
        using X509Certificate2 root = CertificateMaker.Root.SelfSigned();
        byte[] der = Hall.List(root, 30, [0x6E, 0x6D, 0x6C]);
        int at = der.AsSpan().IndexOf(new byte[] { 0x6E, 0x6D, 0x6C });
        der[at] = 0x6F;
        Assert.False(Hall.Read(der).IsOf(CertificateMaker.Facts(root)));
    }

    [Fact]
    public void A_certificate_is_no_list()
    {
        Assert.Null(RevocationList.TryRead(new CertificateMaker().SelfSigned().RawData, out string fault));
        Assert.Equal("it is no certificate revocation list in DER form", fault);
    }

    private static byte[] WithCriticalExtension()
    {
        var writer = new AsnWriter(AsnEncodingRules.DER);
        using (writer.PushSequence())
        {
            using (writer.PushSequence())
            {
                writer.WriteInteger(1);
                WriteAlgorithm(writer);
                writer.WriteEncodedValue(new X500DistinguishedName("CN=hall root").RawData);
                writer.WriteUtcTime(CertificateMaker.At(CertificateMaker.Now));
                using (writer.PushSequence(new Asn1Tag(TagClass.ContextSpecific, 0)))
                using (writer.PushSequence())
                using (writer.PushSequence())
                {
                    writer.WriteObjectIdentifier("2.5.29.27");
                    writer.WriteBoolean(true);
                    writer.WriteOctetString([2, 1, 4]);
                }
            }

            WriteAlgorithm(writer);
            writer.WriteBitString(RandomNumberGenerator.GetBytes(256));
        }

        return writer.Encode();
    }

    private static void WriteAlgorithm(AsnWriter writer)
    {
        using (writer.PushSequence())
        {
            writer.WriteObjectIdentifier("1.2.840.113549.1.1.11");
            writer.WriteNull();
        }
    }
}
