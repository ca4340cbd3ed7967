using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using EdgeGuard.Modbus.Tests.Security;

namespace EdgeGuard.Service.Tests.Guarding;

/// <summary>An issuer of certificates for one test, and the files a site folder names.</summary>
internal sealed class PlantAuthority : IDisposable
{
    private readonly TestAuthority _authority = new("plant");

    public X509Certificate2 Root => _authority.Root;

    /// <summary>A device with a name in its certificate.</summary>
    public X509Certificate2 Device(string name, int daysAgo = 0) => _authority.Server(name, daysAgo);

    /// <summary>Writes guard.pem, guard.key and plant.pem for a client with a role.</summary>
    public void WriteFiles(string folder, string role, int daysAgo = 0)
    {
        using X509Certificate2 client = _authority.Client(role, daysAgo);
        using ECDsa key = client.GetECDsaPrivateKey()!;
        File.WriteAllText(Path.Combine(folder, "guard.pem"), client.ExportCertificatePem());
        File.WriteAllText(Path.Combine(folder, "guard.key"), key.ExportPkcs8PrivateKeyPem());
        File.WriteAllText(Path.Combine(folder, "plant.pem"), Root.ExportCertificatePem());
    }

    public void Dispose() => _authority.Dispose();
}
