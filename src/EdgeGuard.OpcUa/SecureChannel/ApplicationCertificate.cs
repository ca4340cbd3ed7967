using System.Net;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;

namespace EdgeGuard.OpcUa.SecureChannel;

/// <summary>
/// Makes the self-signed application instance certificate of OPC 10000-6, 6.2.2: the application URI, host names and
/// addresses as alternative names, the four key usages clients demand, server and client authentication. It is valid from
/// a day before, so that a client whose clock is behind accepts it.
/// </summary>
public static class ApplicationCertificate
{
    /// <summary>Makes key and certificate.</summary>
    /// <param name="commonName">Name shown to people; also the subject's CN.</param>
    /// <param name="applicationUri">Must equal the ApplicationUri of the endpoint description.</param>
    /// <param name="dnsNames">Host names under which the server is dialled.</param>
    /// <param name="addresses">IP addresses under which the server is dialled.</param>
    /// <param name="utcNow">Time of day.</param>
    /// <param name="validDays">Days from now until it expires.</param>
    /// <param name="keyBits">RSA key length, 2048 to 4096.</param>
    public static X509Certificate2 CreateSelfSigned(
        string commonName, string applicationUri, IReadOnlyList<string> dnsNames, IReadOnlyList<IPAddress> addresses, DateTime utcNow, int validDays = 1825, int keyBits = 2048)
    {
        using var key = RSA.Create(keyBits);
        var subject = new X500DistinguishedNameBuilder();
        subject.AddCommonName(commonName);
        var request = new CertificateRequest(subject.Build(), key, HashAlgorithmName.SHA256, RSASignaturePadding.Pkcs1);
        AddExtensions(request, AlternativeNames(applicationUri, dnsNames, addresses));
        var from = new DateTimeOffset(DateTime.SpecifyKind(utcNow, DateTimeKind.Utc));
        return request.CreateSelfSigned(from.AddDays(-1), from.AddDays(validDays));
    }

    private static X509Extension AlternativeNames(string applicationUri, IReadOnlyList<string> dnsNames, IReadOnlyList<IPAddress> addresses)
    {
        var names = new SubjectAlternativeNameBuilder();
        names.AddUri(new Uri(applicationUri));
        foreach (string name in dnsNames)
        {
            names.AddDnsName(name);
        }

        foreach (IPAddress address in addresses)
        {
            names.AddIpAddress(address);
        }

        return names.Build();
    }

    private static void AddExtensions(CertificateRequest request, X509Extension alternativeNames)
    {
        const X509KeyUsageFlags Usage = X509KeyUsageFlags.DigitalSignature | X509KeyUsageFlags.NonRepudiation | X509KeyUsageFlags.KeyEncipherment | X509KeyUsageFlags.DataEncipherment;
        var keyId = new X509SubjectKeyIdentifierExtension(request.PublicKey, critical: false);
        request.CertificateExtensions.Add(new X509BasicConstraintsExtension(certificateAuthority: false, hasPathLengthConstraint: false, pathLengthConstraint: 0, critical: true));
        request.CertificateExtensions.Add(new X509KeyUsageExtension(Usage, critical: true));

        // Server and client authentication (RFC 5280, 4.2.1.12).
        request.CertificateExtensions.Add(new X509EnhancedKeyUsageExtension([new Oid("1.3.6.1.5.5.7.3.1"), new Oid("1.3.6.1.5.5.7.3.2")], critical: false));
        request.CertificateExtensions.Add(alternativeNames);
        request.CertificateExtensions.Add(keyId);
        request.CertificateExtensions.Add(X509AuthorityKeyIdentifierExtension.CreateFromSubjectKeyIdentifier(keyId));
    }
}
