using System.Formats.Asn1;
using System.Net;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using EdgeGuard.Modbus.Security;

namespace EdgeGuard.Service.Tests.Guarding;

/// <summary>An issuer of certificates for one test, and the files a site folder names.</summary>
internal sealed class PlantAuthority : IDisposable
{
    private const string ServerUse = "1.3.6.1.5.5.7.3.1"; // RFC 5280, 4.2.1.12
    private const string ClientUse = "1.3.6.1.5.5.7.3.2";

    private readonly ECDsa _key = ECDsa.Create(ECCurve.NamedCurves.nistP256);

    public PlantAuthority()
    {
        CertificateRequest request = new("CN=plant", _key, HashAlgorithmName.SHA256);
        request.CertificateExtensions.Add(new X509BasicConstraintsExtension(certificateAuthority: true, false, 0, critical: true));
        Root = request.CreateSelfSigned(DateTimeOffset.UtcNow.AddYears(-2), DateTimeOffset.UtcNow.AddDays(30));
    }

    public X509Certificate2 Root { get; }

    /// <summary>A device with a name in its certificate.</summary>
    public X509Certificate2 Device(string name, int daysAgo = 0)
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

        using X509Certificate2 issued = Issue("device", ServerUse, names.Build(), daysAgo, out ECDsa key);
        using (key)
        {
            using X509Certificate2 withKey = issued.CopyWithPrivateKey(key);
            return X509CertificateLoader.LoadPkcs12(withKey.Export(X509ContentType.Pkcs12), null);
        }
    }

    /// <summary>Writes guard.pem, guard.key and plant.pem for a client with a role.</summary>
    public void WriteFiles(string folder, string role, int daysAgo = 0)
    {
        AsnWriter writer = new(AsnEncodingRules.DER);
        writer.WriteCharacterString(UniversalTagNumber.UTF8String, role);
        using X509Certificate2 client = Issue("guard", ClientUse, new X509Extension(ModbusRole.ExtensionOid, writer.Encode(), critical: false), daysAgo, out ECDsa key);
        using (key)
        {
            File.WriteAllText(Path.Combine(folder, "guard.pem"), client.ExportCertificatePem());
            File.WriteAllText(Path.Combine(folder, "guard.key"), key.ExportPkcs8PrivateKeyPem());
        }

        File.WriteAllText(Path.Combine(folder, "plant.pem"), Root.ExportCertificatePem());
    }

    public void Dispose()
    {
        Root.Dispose();
        _key.Dispose();
    }

    private X509Certificate2 Issue(string name, string use, X509Extension extension, int daysAgo, out ECDsa key)
    {
        key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        CertificateRequest request = new("CN=" + name, key, HashAlgorithmName.SHA256);
        request.CertificateExtensions.Add(new X509EnhancedKeyUsageExtension([new Oid(use)], critical: false));
        request.CertificateExtensions.Add(extension);
        DateTimeOffset end = DateTimeOffset.UtcNow.AddDays(7 - daysAgo);
        return request.Create(Root, end.AddDays(-8), end, RandomNumberGenerator.GetBytes(8));
    }
}
