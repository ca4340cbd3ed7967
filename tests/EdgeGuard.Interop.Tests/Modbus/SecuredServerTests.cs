using System.Formats.Asn1;
using System.Globalization;
using System.Net;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using EdgeGuard.Modbus.Security;
using EdgeGuard.Modbus.Server;
using EdgeGuard.Modbus.Transports;

namespace EdgeGuard.Interop.Tests.Modbus;

/// <summary>Our secured server and a TLS stack of other hands, with RSA certificates as the specification's baseline suite asks for.</summary>
public sealed class SecuredServerTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("edgeguard-tls").FullName;
    private readonly RSA _issuerKey = RSA.Create(2048);
    private readonly X509Certificate2 _issuer;

    public SecuredServerTests()
    {
        CertificateRequest request = new("CN=issuer", _issuerKey, HashAlgorithmName.SHA256, RSASignaturePadding.Pkcs1);
        request.CertificateExtensions.Add(new X509BasicConstraintsExtension(certificateAuthority: true, false, 0, critical: true));
        _issuer = request.CreateSelfSigned(DateTimeOffset.UtcNow.AddDays(-1), DateTimeOffset.UtcNow.AddDays(30));
    }

    public void Dispose()
    {
        _issuer.Dispose();
        _issuerKey.Dispose();
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public void A_foreign_TLS_client_reads_with_its_role_is_refused_a_write_and_without_a_certificate_everything()
    {
        AsnWriter role = new(AsnEncodingRules.DER);
        role.WriteCharacterString(UniversalTagNumber.UTF8String, "viewer");
        using X509Certificate2 client = Issue("1.3.6.1.5.5.7.3.2", new X509Extension(ModbusRole.ExtensionOid, role.Encode(), critical: false));
        SubjectAlternativeNameBuilder names = new();
        names.AddIpAddress(IPAddress.Loopback);
        using X509Certificate2 own = Issue("1.3.6.1.5.5.7.3.1", names.Build());
        ModbusTlsServerOptions security = new()
        {
            Certificate = own,
            TrustedIssuers = [_issuer],
            Rights = new Dictionary<string, ModbusRight> { ["viewer"] = ModbusRight.Read },
        };
        PeerDevice device = new();
        using TcpModbusServer server = new(
            new IPEndPoint(IPAddress.Loopback, 0), new Dictionary<byte, IModbusDevice> { [1] = device }, new TcpModbusServerOptions { Security = security });
        server.Start();

        (int exitCode, string output, string errors) = PeerProcess.RunApart(
            PeerPaths.Python, PeerPaths.Script("modbus_tls_client.py"), server.Port.ToString(CultureInfo.InvariantCulture),
            Save("client.pem", client.ExportCertificatePem()), Save("client.key", client.GetRSAPrivateKey()!.ExportPkcs8PrivateKeyPem()), Save("issuer.pem", _issuer.ExportCertificatePem()));

        Assert.True(exitCode == 0, errors);
        string[] lines = output.TrimEnd().Split('\n');
        Assert.Equal(["True", "03 06 00 14 00 15 00 16", "86 01"], lines[..3]); // exception 01: not allowed
        Assert.StartsWith("TLSv1.2 ECDHE-RSA-AES", lines[3], StringComparison.Ordinal);
        Assert.Equal("without certificate: closed", lines[4]);
        Assert.Contains("ALERT", lines[5], StringComparison.Ordinal); // the server's word, not the client's own limit
        Assert.Equal(20, device.HoldingRegisters[20]);
    }

    private string Save(string name, string text)
    {
        string path = Path.Combine(_folder, name);
        File.WriteAllText(path, text);
        return path;
    }

    private X509Certificate2 Issue(string use, X509Extension extension)
    {
        using RSA key = RSA.Create(2048);
        CertificateRequest request = new("CN=end", key, HashAlgorithmName.SHA256, RSASignaturePadding.Pkcs1);
        request.CertificateExtensions.Add(new X509EnhancedKeyUsageExtension([new Oid(use)], critical: false));
        request.CertificateExtensions.Add(extension);
        using X509Certificate2 issued = request.Create(_issuer, DateTimeOffset.UtcNow.AddHours(-1), DateTimeOffset.UtcNow.AddDays(7), RandomNumberGenerator.GetBytes(8));
        using X509Certificate2 withKey = issued.CopyWithPrivateKey(key);
        return X509CertificateLoader.LoadPkcs12(withKey.Export(X509ContentType.Pkcs12), null, X509KeyStorageFlags.Exportable);
    }
}
