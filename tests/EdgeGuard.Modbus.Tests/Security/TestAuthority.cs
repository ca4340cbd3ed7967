using System.Formats.Asn1;
using System.Net;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using EdgeGuard.Modbus.Security;

namespace EdgeGuard.Modbus.Tests.Security;

/// <summary>An issuer of certificates for one test run.</summary>
internal sealed class TestAuthority : IDisposable
{
    private const string ServerUse = "1.3.6.1.5.5.7.3.1"; // RFC 5280, 4.2.1.12
    private const string ClientUse = "1.3.6.1.5.5.7.3.2";

    private readonly ECDsa _key = ECDsa.Create(ECCurve.NamedCurves.nistP256);

    public TestAuthority(string name)
    {
        CertificateRequest request = new("CN=" + name, _key, HashAlgorithmName.SHA256);
        request.CertificateExtensions.Add(new X509BasicConstraintsExtension(certificateAuthority: true, false, 0, critical: true));
        Root = request.CreateSelfSigned(DateTimeOffset.UtcNow.AddYears(-2), DateTimeOffset.UtcNow.AddDays(30));
    }

    public X509Certificate2 Root { get; }

    /// <summary>A device with an address or a name in its certificate.</summary>
    /// <param name="name">The address or name.</param>
    /// <param name="daysAgo">How long ago it was issued; it holds for a week.</param>
    public X509Certificate2 Server(string name = "127.0.0.1", int daysAgo = 0)
    {
        SubjectAlternativeNameBuilder names = new();
        if (IPAddress.TryParse(name, out IPAddress? address))
        {
            names.AddIpAddress(address);
        }
        else
        {
            names.AddDnsName(name);
        }

        return Issue("device", ServerUse, names.Build(), daysAgo);
    }

    public X509Certificate2 Client(string? role, int daysAgo = 0) => Issue("client", ClientUse, role is null ? null : Role(role), daysAgo);

    public X509Certificate2 ClientWithRawRole(byte[] raw) => Issue("client", ClientUse, new X509Extension(ModbusRole.ExtensionOid, raw, critical: false));

    public void Dispose()
    {
        Root.Dispose();
        _key.Dispose();
    }

    private static X509Extension Role(string role)
    {
        AsnWriter writer = new(AsnEncodingRules.DER);
        writer.WriteCharacterString(UniversalTagNumber.UTF8String, role);
        return new X509Extension(ModbusRole.ExtensionOid, writer.Encode(), critical: false);
    }

    private X509Certificate2 Issue(string name, string use, X509Extension? extension, int daysAgo = 0)
    {
        using ECDsa key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        CertificateRequest request = new("CN=" + name, key, HashAlgorithmName.SHA256);
        request.CertificateExtensions.Add(new X509EnhancedKeyUsageExtension([new Oid(use)], critical: false));
        if (extension is not null)
        {
            request.CertificateExtensions.Add(extension);
        }

        DateTimeOffset end = DateTimeOffset.UtcNow.AddDays(7 - daysAgo);
        using X509Certificate2 issued = request.Create(Root, end.AddDays(-8), end, RandomNumberGenerator.GetBytes(8));
        using X509Certificate2 withKey = issued.CopyWithPrivateKey(key);
        return X509CertificateLoader.LoadPkcs12(withKey.Export(X509ContentType.Pkcs12), null, X509KeyStorageFlags.Exportable);
    }
}
