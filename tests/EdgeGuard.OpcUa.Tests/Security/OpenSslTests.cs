using System.Net;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Security;

namespace EdgeGuard.OpcUa.Tests.Security;

/// <summary>
/// The outside check: certificates and lists made by openssl (a published program) are judged as openssl itself judges
/// them, and it reads what is made here.
/// </summary>
public sealed class OpenSslTests
{
    private const string Config = """
        [ca]
        default_ca = hall
        [hall]
        database = index.txt
        serial = serial
        new_certs_dir = .
        certificate = ca.pem
        private_key = ca.key
        default_md = sha256
        default_days = 300
        default_crl_days = 30
        policy = any
        unique_subject = no
        [any]
        commonName = supplied
        [req]
        distinguished_name = dn
        prompt = no
        [dn]
        CN = unused
        [authority]
        basicConstraints = critical,CA:TRUE
        keyUsage = critical,keyCertSign,cRLSign
        subjectKeyIdentifier = hash
        [application]
        basicConstraints = critical,CA:FALSE
        keyUsage = critical,digitalSignature,nonRepudiation,keyEncipherment,dataEncipherment
        extendedKeyUsage = serverAuth,clientAuth
        subjectAltName = URI:urn:pilot-hall:client,DNS:client.pilot-hall,IP:10.0.0.9
        subjectKeyIdentifier = hash
        authorityKeyIdentifier = keyid
        """;

    [Fact]
    public void Verdicts_on_an_authority_of_openssl_equal_those_of_openssl_verify()
    {
        using OpenSsl openssl = Authority();
        Issue(openssl, "good");
        Issue(openssl, "revoked");
        openssl.Run("ca -config ca.cnf -revoke revoked.pem");
        openssl.Run("ca -config ca.cnf -gencrl -out list.pem");
        openssl.Run("crl -in list.pem -outform DER -out list.crl");
        Assert.Contains("Revoked Certificates", openssl.Run("crl -in list.pem -noout -text"), StringComparison.Ordinal);
        TrustTable trust = new()
        {
            Trusted = [Facts(openssl.Read("ca.der"))],
            RevocationLists = [Hall.Read(openssl.Read("list.crl"))],
        };

        Compare(openssl, "good", trust, StatusCode.Good);
        Compare(openssl, "revoked", trust, StatusCode.BadCertificateRevoked);
    }

    [Fact]
    public void A_certificate_signed_with_SHA_1_is_refused_by_its_algorithm()
    {
        using OpenSsl openssl = Authority();
        openssl.Run("req -x509 -newkey rsa:2048 -nodes -keyout sha1.key -out sha1.pem -sha1 -days 300 -subj /CN=old -config ca.cnf -extensions application");
        openssl.Run("x509 -in sha1.pem -outform DER -out sha1.der");
        byte[] der = openssl.Read("sha1.der");
        var trust = new TrustTable { Trusted = [Facts(der)] };
        Hall.Expect(
            StatusCode.BadCertificatePolicyCheckFailed,
            StatusCode.BadSecurityChecksFailed,
            "CN=old is signed with SHA-1 with RSA",
            CertificateRules.Judge(der, trust, DateTime.UtcNow, CertificatePurpose.ClientApplication));
    }

    [Fact]
    public void What_is_read_of_a_certificate_is_what_openssl_prints()
    {
        using OpenSsl openssl = Authority();
        Issue(openssl, "good");
        CertificateFacts facts = Facts(openssl.Read("good.der"));
        string fingerprint = openssl.Run("x509 -in good.pem -noout -fingerprint -sha1").Split('=')[1].Trim().Replace(":", "", StringComparison.Ordinal);
        string end = openssl.Run("x509 -in good.pem -noout -enddate -dateopt iso_8601").Split('=')[1].Trim();
        string serial = openssl.Run("x509 -in good.pem -noout -serial").Split('=')[1].Trim();
        Assert.Equal(fingerprint, facts.Thumbprint);
        Assert.Equal(DateTime.Parse(end, System.Globalization.CultureInfo.InvariantCulture, System.Globalization.DateTimeStyles.AdjustToUniversal), facts.NotAfterUtc);
        Assert.Equal("00" + serial, facts.Serial); // the sign byte of DER in front, as lists have it too
        Assert.Equal(["urn:pilot-hall:client"], facts.Uris);
        Assert.Equal(["client.pilot-hall", "10.0.0.9"], facts.HostNames);
        Assert.Equal(2048, facts.KeyBits);
    }

    [Fact]
    public void Openssl_accepts_the_certificate_made_here_and_finds_its_extensions()
    {
        using OpenSsl openssl = Authority();
        using var own = ApplicationCertificate.CreateSelfSigned("EdgeGuard hall", "urn:hall:edgeguard", ["edge.hall"], [IPAddress.Loopback], DateTime.UtcNow);
        openssl.Write("own.pem", own.ExportCertificatePem());
        Assert.Contains("own.pem: OK", openssl.Run("verify -x509_strict -check_ss_sig -CAfile own.pem own.pem"), StringComparison.Ordinal);
        string text = openssl.Run("x509 -in own.pem -noout -text");
        Assert.Contains("Digital Signature, Non Repudiation, Key Encipherment, Data Encipherment", text, StringComparison.Ordinal);
        Assert.Contains("TLS Web Server Authentication, TLS Web Client Authentication", text, StringComparison.Ordinal);
        Assert.Contains("URI:urn:hall:edgeguard, DNS:edge.hall, IP Address:127.0.0.1", text, StringComparison.Ordinal);
        Assert.Contains("Signature Algorithm: sha256WithRSAEncryption", text, StringComparison.Ordinal);
    }

    private static OpenSsl Authority()
    {
        var openssl = new OpenSsl();
        openssl.Write("ca.cnf", Config);
        openssl.Write("index.txt", "");
        openssl.Write("serial", "80A1\n");
        openssl.Run("req -x509 -newkey rsa:2048 -nodes -keyout ca.key -out ca.pem -sha256 -days 3000 -subj /CN=hall -config ca.cnf -extensions authority");
        openssl.Run("x509 -in ca.pem -outform DER -out ca.der");
        return openssl;
    }

    private static void Issue(OpenSsl openssl, string name)
    {
        openssl.Run($"req -newkey rsa:2048 -nodes -keyout {name}.key -out {name}.csr -subj /CN={name} -config ca.cnf");
        openssl.Run($"ca -batch -config ca.cnf -extensions application -notext -in {name}.csr -out {name}.pem");
        openssl.Run($"x509 -in {name}.pem -outform DER -out {name}.der");
    }

    private static void Compare(OpenSsl openssl, string name, TrustTable trust, StatusCode expected)
    {
        int code = openssl.TryRun($"verify -x509_strict -crl_check -CAfile ca.pem -CRLfile list.pem {name}.pem", out string output);
        CertificateVerdict verdict = CertificateRules.Judge(openssl.Read(name + ".der"), trust, DateTime.UtcNow.AddSeconds(2), CertificatePurpose.ClientApplication);
        Assert.Equal(expected == StatusCode.Good, code == 0);
        Assert.True(expected == verdict.Status, $"{verdict.Status}: {verdict.Cause}; openssl: {output}");
    }

    private static CertificateFacts Facts(byte[] der) => CertificateFacts.TryRead(der, out string fault) ?? throw new InvalidOperationException(fault);
}
