using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using EdgeGuard.OpcUa.Security;

namespace EdgeGuard.OpcUa.Tests.Security;

/// <summary>Certificates of an authority: trust through it, its lists, and what is wrong with issuers.</summary>
public sealed class ChainTests
{
    private const StatusCode Generic = StatusCode.BadSecurityChecksFailed;

    private readonly Hall _hall = new();

    private byte[] Leaf => new CertificateMaker().IssuedBy(_hall.Issuing).RawData;

    [Fact]
    public void A_leaf_of_a_trusted_root_is_accepted_with_issuers_from_disk_or_from_the_peer()
    {
        Assert.True(Hall.Judge(Leaf, _hall.Trust()).Trusted);
        TrustTable withoutIssuing = _hall.Trust() with { Issuers = [] };
        Assert.True(Hall.Judge([.. Leaf, .. _hall.Issuing.RawData], withoutIssuing).Trusted);
        Assert.True(Hall.Judge([.. Leaf, .. _hall.Issuing.RawData, .. _hall.Root.RawData], withoutIssuing).Trusted);
    }

    [Fact]
    public void A_chain_in_which_nobody_is_trusted_is_not_trusted()
    {
        TrustTable trust = _hall.Trust() with { Trusted = [], Issuers = [CertificateMaker.Facts(_hall.Root), CertificateMaker.Facts(_hall.Issuing)] };
        Hall.Expect(StatusCode.BadCertificateUntrusted, Generic, "not trusted: CN=client", Hall.Judge(Leaf, trust));
    }

    [Fact]
    public void A_root_that_the_peer_brings_along_is_no_trust()
    {
        byte[] sent = [.. Leaf, .. _hall.Issuing.RawData, .. _hall.Root.RawData];
        Hall.Expect(StatusCode.BadCertificateUntrusted, Generic, "not trusted", Hall.Judge(sent, TrustTable.Empty));
    }

    [Fact]
    public void A_missing_issuer_is_named()
    {
        TrustTable trust = _hall.Trust() with { Issuers = [] };
        Hall.Expect(StatusCode.BadCertificateChainIncomplete, Generic, "issuer missing: no certificate of CN=hall issuing", Hall.Judge(Leaf, trust));
    }

    [Fact]
    public void A_trusted_leaf_still_needs_its_issuers_and_their_lists()
    {
        byte[] leaf = Leaf;
        var trust = new TrustTable { Trusted = [CertificateFacts.TryRead(leaf, out _)!] };
        Hall.Expect(StatusCode.BadCertificateChainIncomplete, Generic, "issuer missing", Hall.Judge(leaf, trust));
        trust = trust with { Issuers = [CertificateMaker.Facts(_hall.Issuing), CertificateMaker.Facts(_hall.Root)] };
        Hall.Expect(StatusCode.BadCertificateRevocationUnknown, StatusCode.BadCertificateRevocationUnknown, "no revocation list of CN=hall issuing", Hall.Judge(leaf, trust));
        Assert.True(Hall.Judge(leaf, trust with { RevocationLists = _hall.Trust().RevocationLists }).Trusted);
    }

    [Fact]
    public void A_leaf_signed_by_a_namesake_of_the_issuer_is_damaged()
    {
        using X509Certificate2 namesake = (CertificateMaker.Intermediate with { Key = TestKeys.Client }).SelfSigned();
        byte[] leaf = new CertificateMaker().IssuedBy(namesake).RawData;
        Hall.Expect(StatusCode.BadCertificateInvalid, Generic, "damaged: the signature of CN=client was not made by CN=hall issuing", Hall.Judge(leaf, _hall.Trust()));
    }

    [Fact]
    public void A_revoked_leaf_says_when_and_by_whom_and_the_peer_learns_nothing()
    {
        TrustTable trust = _hall.Trust(Hall.List(_hall.Root), Hall.List(_hall.Issuing, 30, [1, 7]));
        Hall.Expect(StatusCode.BadCertificateRevoked, Generic, "revoked on 2026-02-27 12:00:00Z by CN=hall issuing: CN=client", Hall.Judge(Leaf, trust));
        Assert.True(Hall.Judge(new CertificateMaker().IssuedBy(_hall.Issuing, 8).RawData, trust).Trusted);
    }

    [Fact]
    public void A_revoked_leaf_stays_revoked_when_the_list_is_outdated()
    {
        TrustTable trust = _hall.Trust(Hall.List(_hall.Root), Hall.List(_hall.Issuing, -1, [1, 7]));
        Hall.Expect(StatusCode.BadCertificateRevoked, Generic, "revoked on", Hall.Judge(Leaf, trust));
    }

    [Fact]
    public void A_revoked_issuer_takes_all_it_issued_with_it()
    {
        TrustTable trust = _hall.Trust(Hall.List(_hall.Root, 30, [1, 2]), Hall.List(_hall.Issuing));
        Hall.Expect(StatusCode.BadCertificateIssuerRevoked, StatusCode.BadCertificateIssuerRevoked, "by CN=hall root: CN=hall issuing", Hall.Judge(Leaf, trust));
    }

    [Fact]
    public void Without_a_list_of_the_issuer_of_the_issuer_the_state_is_unknown()
    {
        TrustTable trust = _hall.Trust(Hall.List(_hall.Issuing));
        Hall.Expect(StatusCode.BadCertificateIssuerRevocationUnknown, StatusCode.BadCertificateIssuerRevocationUnknown, "no revocation list of CN=hall root", Hall.Judge(Leaf, trust));
    }

    [Fact]
    public void An_outdated_list_says_since_when()
    {
        TrustTable trust = _hall.Trust(Hall.List(_hall.Root), Hall.List(_hall.Issuing, -1));
        Hall.Expect(StatusCode.BadCertificateRevocationUnknown, StatusCode.BadCertificateRevocationUnknown, "outdated: the next one was due on 2026-02-28 12:00:00Z", Hall.Judge(Leaf, trust));
    }

    [Fact]
    public void A_list_signed_by_another_key_counts_for_nothing()
    {
        using X509Certificate2 namesake = (CertificateMaker.Intermediate with { Key = TestKeys.Client }).SelfSigned();
        TrustTable trust = _hall.Trust(Hall.List(_hall.Root), Hall.List(namesake));
        Hall.Expect(StatusCode.BadCertificateRevocationUnknown, StatusCode.BadCertificateRevocationUnknown, "no revocation list of CN=hall issuing", Hall.Judge(Leaf, trust));
    }

    [Fact]
    public void A_list_of_an_issuer_that_may_not_sign_lists_counts_for_nothing()
    {
        var hall = new Hall(CertificateMaker.Intermediate with { Usage = X509KeyUsageFlags.KeyCertSign });
        using X509Certificate2 signer = CertificateMaker.Intermediate.IssuedBy(hall.Root, 2).CopyWithPrivateKey(TestKeys.Issuer);
        TrustTable trust = hall.Trust(Hall.List(hall.Root), Hall.List(signer));
        Hall.Expect(
            StatusCode.BadCertificateRevocationUnknown,
            StatusCode.BadCertificateRevocationUnknown,
            "no revocation list of CN=hall issuing",
            Hall.Judge(new CertificateMaker().IssuedBy(hall.Issuing).RawData, trust));
    }

    [Fact]
    public void An_expired_issuer_is_refused()
    {
        var hall = new Hall(CertificateMaker.Intermediate with { Until = CertificateMaker.Now.AddDays(-1) });
        byte[] leaf = new CertificateMaker { Until = CertificateMaker.Now.AddDays(-1) }.IssuedBy(hall.Issuing).RawData;
        Hall.Expect(StatusCode.BadCertificateTimeInvalid, StatusCode.BadCertificateTimeInvalid, "expired on", Hall.Judge(leaf, hall.Trust()));
        leaf = ValidLongerThanIssuer(hall);
        Hall.Expect(StatusCode.BadCertificateIssuerTimeInvalid, StatusCode.BadCertificateIssuerTimeInvalid, "expired on 2026-02-28 12:00:00Z: CN=hall issuing", Hall.Judge(leaf, hall.Trust()));
    }

    [Fact]
    public void An_issuer_that_is_no_authority_is_refused()
    {
        byte[] leaf = Signed(CertificateMaker.Intermediate with { Authority = false }, out TrustTable trust);
        Hall.Expect(StatusCode.BadCertificateIssuerUseNotAllowed, StatusCode.BadCertificateIssuerUseNotAllowed, "it is no authority", Hall.Judge(leaf, trust));
    }

    [Fact]
    public void An_issuer_whose_key_may_not_sign_certificates_is_refused()
    {
        byte[] leaf = Signed(CertificateMaker.Intermediate with { Usage = X509KeyUsageFlags.DigitalSignature | X509KeyUsageFlags.CrlSign }, out TrustTable trust);
        Hall.Expect(StatusCode.BadCertificateIssuerUseNotAllowed, StatusCode.BadCertificateIssuerUseNotAllowed, "no KeyCertSign", Hall.Judge(leaf, trust));
    }

    [Fact]
    public void A_trusted_client_cannot_issue_further_clients()
    {
        using X509Certificate2 client = new CertificateMaker().SelfSigned();
        byte[] forged = Forge(new CertificateMaker { Name = "CN=forged", Key = TestKeys.Issuer }, "CN=client", TestKeys.Client);
        var trust = new TrustTable { Trusted = [CertificateMaker.Facts(client)] };
        Hall.Expect(StatusCode.BadCertificateIssuerUseNotAllowed, StatusCode.BadCertificateIssuerUseNotAllowed, "CN=client issued a certificate and must not", Hall.Judge(forged, trust));
    }

    [Fact]
    public void A_path_longer_than_an_issuer_allows_is_refused()
    {
        using X509Certificate2 root = (CertificateMaker.Root with { PathLength = 0 }).SelfSigned();
        var hall = new Hall { Root = root };
        using X509Certificate2 issuing = CertificateMaker.Intermediate.IssuedBy(root, 2).CopyWithPrivateKey(TestKeys.Issuer);
        TrustTable trust = hall.Trust(Hall.List(root), Hall.List(issuing)) with { Issuers = [CertificateMaker.Facts(issuing)] };
        Hall.Expect(
            StatusCode.BadCertificateIssuerUseNotAllowed,
            StatusCode.BadCertificateIssuerUseNotAllowed,
            "its path length is exceeded",
            Hall.Judge(new CertificateMaker().IssuedBy(issuing).RawData, trust));
    }

    [Fact]
    public void More_than_eight_certificates_are_not_even_read()
    {
        byte[] leaf = Leaf;
        byte[] sent = [.. Enumerable.Repeat(leaf, 9).SelectMany(static c => c)];
        Hall.Expect(StatusCode.BadCertificateInvalid, Generic, "more than 8 certificates", Hall.Judge(sent, _hall.Trust()));
    }

    [Fact]
    public void Two_authorities_that_issue_each_other_end_at_the_bound()
    {
        using X509Certificate2 one = CertificateMaker.Root.SelfSigned();
        using X509Certificate2 other = CertificateMaker.Intermediate.SelfSigned();
        byte[] oneByOther = Forge(CertificateMaker.Root, "CN=hall issuing", TestKeys.Issuer);
        byte[] otherByOne = Forge(CertificateMaker.Intermediate, "CN=hall root", TestKeys.Root);
        var trust = new TrustTable { Issuers = [CertificateFacts.TryRead(oneByOther, out _)!, CertificateFacts.TryRead(otherByOne, out _)!] };
        Hall.Expect(StatusCode.BadCertificateChainIncomplete, Generic, "longer than 8", Hall.Judge(new CertificateMaker().IssuedBy(other).RawData, trust));
    }

    private static byte[] ValidLongerThanIssuer(Hall hall) => Forge(new CertificateMaker(), hall.Issuing.Subject, TestKeys.Issuer);

    private byte[] Signed(CertificateMaker issuer, out TrustTable trust)
    {
        using X509Certificate2 issuing = issuer.IssuedBy(_hall.Root, 2).CopyWithPrivateKey(TestKeys.Issuer);
        trust = _hall.Trust() with { Issuers = [CertificateMaker.Facts(issuing)] };
        return Forge(new CertificateMaker(), issuing.Subject, TestKeys.Issuer);
    }

    // The platform's own request refuses to issue under an issuer that must not; a forger does not ask.
    private static byte[] Forge(CertificateMaker maker, string issuerName, RSA issuerKey) => maker.Request()
        .Create(new X500DistinguishedName(issuerName), X509SignatureGenerator.CreateForRSA(issuerKey, RSASignaturePadding.Pkcs1), CertificateMaker.At(maker.From), CertificateMaker.At(maker.Until), [1, 9]).RawData;
}
