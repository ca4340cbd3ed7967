using System.Security.Cryptography.X509Certificates;
using EdgeGuard.Modbus.Security;

namespace EdgeGuard.Service.Guarding;

/// <summary>A certificate on which a secured link depends: when it ends, the link is lost at the next connect.</summary>
/// <param name="What">Which one, in words.</param>
/// <param name="NotAfterUtc">Its end.</param>
public sealed record LinkCertificate(string What, DateTime NotAfterUtc)
{
    /// <summary>Words for the certificate that the device shows.</summary>
    public const string OfDevice = "certificate of the device";

    /// <summary>The own certificate and the trusted issuers of a link; empty for one in the clear.</summary>
    public static IReadOnlyList<LinkCertificate> Of(ModbusTlsOptions? security) => security is null
        ? []
        : [new("own certificate", EndOf(security.Certificate)), .. security.TrustedIssuers.Select(static i => new LinkCertificate($"trusted issuer {i.GetNameInfo(X509NameType.SimpleName, forIssuer: false)}", EndOf(i)))];

    private static DateTime EndOf(X509Certificate2 certificate) => certificate.NotAfter.ToUniversalTime();
}
