using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Security;
using EdgeGuard.Publication.Pki;

namespace EdgeGuard.Publication.Tests.Pki;

/// <summary>A data folder of one test, a clock that only the test moves, and certificates.</summary>
internal sealed class PkiBench : IDisposable
{
    public static readonly DateTime Start = new(2026, 3, 1, 12, 0, 0, DateTimeKind.Utc);

    private static readonly Lazy<byte[]> FirstClient = new(static () => Make("client"));
    private static readonly Lazy<byte[]> SecondClient = new(static () => Make("second"));

    public PkiBench()
    {
        Paths = new PkiPaths(Data);
        Paths.Create();
    }

    public static byte[] Client => FirstClient.Value;

    public static byte[] Second => SecondClient.Value;

    public string Data { get; } = Directory.CreateTempSubdirectory("eg-pki-").FullName;

    public PkiPaths Paths { get; }

    public long NowMs { get; set; } = 5000;

    public List<string> Notes { get; } = [];

    public (long MonotonicMs, DateTime Utc) Clock() => (NowMs, Start);

    public static byte[] Make(string name, DateTime? now = null, int days = 365)
    {
        using X509Certificate2 made = ApplicationCertificate.CreateSelfSigned(name, "urn:pilot-hall:" + name, ["client.pilot-hall"], [], now ?? Start, days);
        return made.RawData;
    }

    public static CertificateFacts Facts(byte[] der) => CertificateFacts.TryRead(der, out string fault) ?? throw new InvalidOperationException(fault);

    public static string Pem(byte[] der) => PemEncoding.WriteString("CERTIFICATE", der);

    public static PeerCertificate Peer(byte[] der) => PeerCertificate.TryLoad(der, SecurityPolicy.Basic256Sha256, out _) ?? throw new InvalidOperationException("the certificate does not load");

    public void Dispose() => Directory.Delete(Data, recursive: true);
}
