using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Security;

namespace EdgeGuard.OpcUa.Tests.Security;

/// <summary>Self-signed certificates of every broken kind; statuses and order are those of OPC 10000-4, 6.1.3.</summary>
public sealed class SelfSignedTests
{
    private const StatusCode Generic = StatusCode.BadSecurityChecksFailed;

    [Fact]
    public void A_trusted_certificate_is_accepted()
    {
        byte[] der = new CertificateMaker().SelfSigned().RawData;
        CertificateVerdict verdict = Hall.Judge(der, Trust(der));
        Assert.True(verdict.Trusted, verdict.Cause);
        Assert.Equal(StatusCode.Good, verdict.WireStatus);
    }

    [Fact]
    public void Nobody_is_trusted_by_default()
    {
        using X509Certificate2 certificate = new CertificateMaker().SelfSigned();
        Hall.Expect(StatusCode.BadCertificateUntrusted, Generic, "not trusted: CN=client, thumbprint " + certificate.Thumbprint, Hall.Judge(certificate.RawData, TrustTable.Empty));
    }

    [Fact]
    public void A_certificate_among_the_issuers_is_not_trusted_by_that()
    {
        byte[] der = new CertificateMaker().SelfSigned().RawData;
        var trust = new TrustTable { Issuers = [CertificateFacts.TryRead(der, out _)!] };
        Hall.Expect(StatusCode.BadCertificateUntrusted, Generic, "not trusted", Hall.Judge(der, trust));
    }

    [Fact]
    public void An_equal_name_and_key_is_not_the_trusted_certificate()
    {
        byte[] trusted = new CertificateMaker().SelfSigned().RawData;
        byte[] other = new CertificateMaker { Until = CertificateMaker.Now.AddDays(366) }.SelfSigned().RawData;
        Hall.Expect(StatusCode.BadCertificateUntrusted, Generic, "not trusted", Hall.Judge(other, Trust(trusted)));
    }

    [Fact]
    public void An_expired_one_says_when()
    {
        byte[] der = new CertificateMaker { Until = CertificateMaker.Now.AddSeconds(-1) }.SelfSigned().RawData;
        Hall.Expect(StatusCode.BadCertificateTimeInvalid, StatusCode.BadCertificateTimeInvalid, "expired on 2026-03-01 11:59:59Z", Hall.Judge(der, Trust(der)));
    }

    [Fact]
    public void One_that_is_not_yet_valid_says_from_when_and_what_time_it_is_here()
    {
        byte[] der = new CertificateMaker { From = CertificateMaker.Now.AddSeconds(1) }.SelfSigned().RawData;
        Hall.Expect(StatusCode.BadCertificateTimeInvalid, StatusCode.BadCertificateTimeInvalid, "valid from 2026-03-01 12:00:01Z, here it is 2026-03-01 12:00:00Z", Hall.Judge(der, Trust(der)));
    }

    [Fact]
    public void Both_ends_of_the_validity_belong_to_it()
    {
        byte[] first = new CertificateMaker { From = CertificateMaker.Now }.SelfSigned().RawData;
        byte[] last = new CertificateMaker { Until = CertificateMaker.Now }.SelfSigned().RawData;
        Assert.True(Hall.Judge(first, Trust(first)).Trusted);
        Assert.True(Hall.Judge(last, Trust(last)).Trusted);
    }

    [Fact]
    public void A_stranger_does_not_learn_that_his_certificate_expired()
    {
        byte[] der = new CertificateMaker { Until = CertificateMaker.Now.AddDays(-1) }.SelfSigned().RawData;
        Hall.Expect(StatusCode.BadCertificateUntrusted, Generic, "not trusted", Hall.Judge(der, TrustTable.Empty));
    }

    [Theory]
    [InlineData(X509KeyUsageFlags.KeyCertSign | X509KeyUsageFlags.CrlSign)]
    [InlineData(X509KeyUsageFlags.DigitalSignature)]
    [InlineData(X509KeyUsageFlags.DataEncipherment | X509KeyUsageFlags.KeyEncipherment)]
    public void A_key_for_other_uses_is_refused(X509KeyUsageFlags usage)
    {
        byte[] der = new CertificateMaker { Usage = usage }.SelfSigned().RawData;
        Hall.Expect(StatusCode.BadCertificateUseNotAllowed, StatusCode.BadCertificateUseNotAllowed, $"wrong usage: CN=client has key usage {usage}", Hall.Judge(der, Trust(der)));
    }

    [Theory]
    [InlineData(X509KeyUsageFlags.DigitalSignature | X509KeyUsageFlags.DataEncipherment)]
    [InlineData(X509KeyUsageFlags.DigitalSignature | X509KeyUsageFlags.KeyEncipherment)]
    [InlineData(null)]
    public void One_of_both_encipherments_is_enough_and_no_extension_restricts_nothing(X509KeyUsageFlags? usage)
    {
        byte[] der = new CertificateMaker { Usage = usage }.SelfSigned().RawData;
        Assert.True(Hall.Judge(der, Trust(der)).Trusted);
    }

    [Fact]
    public void A_certificate_for_servers_only_is_refused_as_a_clients_and_the_other_way_round()
    {
        byte[] der = new CertificateMaker { EnhancedUsage = "1.3.6.1.5.5.7.3.1" }.SelfSigned().RawData;
        Hall.Expect(StatusCode.BadCertificateUseNotAllowed, StatusCode.BadCertificateUseNotAllowed, "not for client authentication", Hall.Judge(der, Trust(der)));
        Assert.True(Hall.Judge(der, Trust(der), CertificatePurpose.ServerApplication).Trusted);
        der = new CertificateMaker { EnhancedUsage = "1.3.6.1.5.5.7.3.2" }.SelfSigned().RawData;
        Hall.Expect(StatusCode.BadCertificateUseNotAllowed, StatusCode.BadCertificateUseNotAllowed, "not for server authentication", Hall.Judge(der, Trust(der), CertificatePurpose.ServerApplication));
    }

    [Fact]
    public void A_key_of_1024_bits_is_refused_even_when_trusted()
    {
        byte[] der = new CertificateMaker { Key = TestKeys.Short }.SelfSigned().RawData;
        Hall.Expect(StatusCode.BadCertificatePolicyCheckFailed, Generic, "key too short: 1024 bits in CN=client; expected RSA with 2048 to 4096 bits", Hall.Judge(der, Trust(der)));
    }

    [Fact]
    public void A_key_that_is_not_RSA_is_refused()
    {
        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        byte[] der = new CertificateRequest("CN=curve", key, HashAlgorithmName.SHA256).CreateSelfSigned(CertificateMaker.At(CertificateMaker.Now), CertificateMaker.At(CertificateMaker.Now.AddDays(1))).RawData;
        Hall.Expect(StatusCode.BadCertificatePolicyCheckFailed, Generic, "SHA-256 with ECDSA", Hall.Judge(der, Trust(der)));
    }

    [Fact]
    public void Without_an_application_URI_it_is_refused_for_applications_and_taken_for_people()
    {
        byte[] der = new CertificateMaker { Uri = null }.SelfSigned().RawData;
        Hall.Expect(StatusCode.BadCertificateUriInvalid, StatusCode.BadCertificateUriInvalid, "no application URI", Hall.Judge(der, Trust(der)));
        Assert.True(Hall.Judge(der, Trust(der), CertificatePurpose.User).Trusted);
    }

    [Fact]
    public void A_URI_that_differs_is_refused_with_both_URIs()
    {
        CertificateFacts facts = CertificateMaker.Facts(new CertificateMaker().SelfSigned());
        Hall.Expect(
            StatusCode.BadCertificateUriInvalid,
            StatusCode.BadCertificateUriInvalid,
            "found urn:pilot-hall:client in the certificate, expected urn:pilot-hall:Client",
            CertificateRules.CheckApplicationUri(facts, "urn:pilot-hall:Client"));
        Assert.True(CertificateRules.CheckApplicationUri(facts, CertificateMaker.ClientUri).Trusted);
        Assert.False(CertificateRules.CheckApplicationUri(facts, null).Trusted);
    }

    [Fact]
    public void A_critical_extension_that_nobody_understands_is_refused()
    {
        // RFC 5280, 4.2: "MUST reject the certificate if it encounters a critical extension it does not recognize".
        byte[] der = new CertificateMaker { Extra = new X509Extension("1.2.3.4.5", [5, 0], critical: true) }.SelfSigned().RawData;
        Hall.Expect(StatusCode.BadCertificateInvalid, Generic, "critical extension 1.2.3.4.5", Hall.Judge(der, Trust(der)));
        byte[] tolerated = new CertificateMaker { Extra = new X509Extension("1.2.3.4.5", [5, 0], critical: false) }.SelfSigned().RawData;
        Assert.True(Hall.Judge(tolerated, Trust(tolerated)).Trusted);
    }

    [Fact]
    public void Control_characters_of_a_name_do_not_reach_the_log()
    {
        byte[] der = new CertificateMaker { Name = "CN=\"a\u001b[2Jb\"" }.SelfSigned().RawData;
        string cause = Hall.Judge(der, TrustTable.Empty).Cause!;
        Assert.DoesNotContain(cause, char.IsControl);
    }

    private static TrustTable Trust(byte[] der) => new() { Trusted = [CertificateFacts.TryRead(der, out string fault) ?? throw new InvalidOperationException(fault)] };
}
