using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Security;

namespace EdgeGuard.OpcUa.Tests.Security;

/// <summary>A two-level authority with lists in force, and the judgement of certificates under it.</summary>
internal sealed class Hall
{
    public X509Certificate2 Root { get; init; } = CertificateMaker.Root.SelfSigned();

    public X509Certificate2 Issuing { get; init; }

    public Hall(CertificateMaker? issuing = null)
    {
        Issuing = (issuing ?? CertificateMaker.Intermediate).IssuedBy(Root, 2).CopyWithPrivateKey(TestKeys.Issuer);
    }

    public static byte[] List(X509Certificate2 issuer, int days = 30, params byte[][] revoked)
    {
        var builder = new CertificateRevocationListBuilder();
        foreach (byte[] serial in revoked)
        {
            builder.AddEntry(serial, CertificateMaker.At(CertificateMaker.Now.AddDays(-2)));
        }

        return builder.Build(issuer, 5, CertificateMaker.At(CertificateMaker.Now.AddDays(days)), HashAlgorithmName.SHA256, RSASignaturePadding.Pkcs1, CertificateMaker.At(CertificateMaker.Now.AddDays(-100)));
    }

    public static RevocationList Read(byte[] der) => RevocationList.TryRead(der, out string fault) ?? throw new InvalidOperationException(fault);

    public TrustTable Trust(params byte[][] lists) => new()
    {
        Trusted = [CertificateMaker.Facts(Root)],
        Issuers = [CertificateMaker.Facts(Issuing)],
        RevocationLists = [.. (lists.Length == 0 ? [List(Root), List(Issuing)] : lists).Select(Read)],
    };

    public static CertificateVerdict Judge(byte[] sent, TrustTable trust, CertificatePurpose purpose = CertificatePurpose.ClientApplication) =>
        CertificateRules.Judge(sent, trust, CertificateMaker.Now, purpose);

    public static void Expect(StatusCode status, StatusCode wire, string cause, CertificateVerdict verdict)
    {
        Assert.False(verdict.Trusted);
        Assert.Equal(status, verdict.Status);
        Assert.Equal(wire, verdict.WireStatus);
        Assert.Contains(cause, verdict.Cause, StringComparison.Ordinal);
    }
}
