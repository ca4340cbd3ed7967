using System.Net;
using System.Security.Cryptography.X509Certificates;
using EdgeGuard.OpcUa.SecureChannel;

namespace EdgeGuard.OpcUa.Tests.SecureChannel;

/// <summary>Certificates of the tests, made once: RSA keys take their time.</summary>
internal static class TestParties
{
    public static readonly DateTime MadeAt = new(2026, 3, 1, 12, 0, 0, DateTimeKind.Utc);
    public static readonly X509Certificate2 ServerCertificate = Make("server", 2048);
    public static readonly ApplicationInstance Server = new(ServerCertificate);
    public static readonly ApplicationInstance Client = new(Make("client", 2048));
    public static readonly ApplicationInstance Stranger = new(Make("stranger", 2048));
    public static readonly ApplicationInstance LongKey = new(Make("long key", 3072));

    private static X509Certificate2 Make(string name, int bits) =>
        ApplicationCertificate.CreateSelfSigned("EdgeGuard " + name, "urn:pilot-hall:EdgeGuard:" + name.Replace(' ', '-'), ["pilot-hall", "localhost"], [IPAddress.Loopback], MadeAt, keyBits: bits);
}
