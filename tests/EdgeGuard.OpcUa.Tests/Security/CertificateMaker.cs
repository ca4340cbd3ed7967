using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using EdgeGuard.OpcUa.Security;

namespace EdgeGuard.OpcUa.Tests.Security;

/// <summary>Makes certificates, good ones by default and broken ones on demand. The time of all tests is <see cref="Now"/>.</summary>
internal sealed record CertificateMaker
{
    public const string ClientUri = "urn:pilot-hall:client";

    public static readonly DateTime Now = new(2026, 3, 1, 12, 0, 0, DateTimeKind.Utc);

    public string Name { get; init; } = "CN=client";

    public RSA Key { get; init; } = TestKeys.Client;

    public string? Uri { get; init; } = ClientUri;

    public X509KeyUsageFlags? Usage { get; init; } = X509KeyUsageFlags.DigitalSignature | X509KeyUsageFlags.NonRepudiation | X509KeyUsageFlags.KeyEncipherment | X509KeyUsageFlags.DataEncipherment;

    public string? EnhancedUsage { get; init; } = "1.3.6.1.5.5.7.3.2";

    public bool Authority { get; init; }

    public int? PathLength { get; init; }

    public DateTime From { get; init; } = Now.AddDays(-10);

    public DateTime Until { get; init; } = Now.AddDays(365);

    public X509Extension? Extra { get; init; }

    public static CertificateMaker Root => new()
    {
        Name = "CN=hall root",
        Key = TestKeys.Root,
        Uri = null,
        EnhancedUsage = null,
        Authority = true,
        Usage = X509KeyUsageFlags.KeyCertSign | X509KeyUsageFlags.CrlSign,
        Until = Now.AddDays(3650),
    };

    public static CertificateMaker Intermediate => Root with { Name = "CN=hall issuing", Key = TestKeys.Issuer };

    public static CertificateFacts Facts(X509Certificate2 certificate) =>
        CertificateFacts.TryRead(certificate.RawData, out string fault) ?? throw new InvalidOperationException(fault);

    public static DateTimeOffset At(DateTime utc) => new(utc);

    public X509Certificate2 SelfSigned() => Request().CreateSelfSigned(At(From), At(Until));

    public X509Certificate2 IssuedBy(X509Certificate2 issuer, byte serial = 7) => Request().Create(issuer, At(From), At(Until), [1, serial]);

    public CertificateRequest Request()
    {
        var request = new CertificateRequest(new X500DistinguishedName(Name), Key, HashAlgorithmName.SHA256, RSASignaturePadding.Pkcs1);
        request.CertificateExtensions.Add(new X509BasicConstraintsExtension(Authority, PathLength.HasValue, PathLength ?? 0, critical: true));
        if (Usage is { } usage)
        {
            request.CertificateExtensions.Add(new X509KeyUsageExtension(usage, critical: true));
        }

        if (EnhancedUsage is { } oid)
        {
            request.CertificateExtensions.Add(new X509EnhancedKeyUsageExtension([new Oid(oid)], critical: false));
        }

        if (Uri is not null)
        {
            var names = new SubjectAlternativeNameBuilder();
            names.AddUri(new Uri(Uri));
            names.AddDnsName("client.pilot-hall");
            request.CertificateExtensions.Add(names.Build());
        }

        request.CertificateExtensions.Add(new X509SubjectKeyIdentifierExtension(request.PublicKey, critical: false));
        if (Extra is not null)
        {
            request.CertificateExtensions.Add(Extra);
        }

        return request;
    }
}
