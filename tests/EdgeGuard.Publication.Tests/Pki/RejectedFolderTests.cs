using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Security;
using EdgeGuard.Publication.Pki;

namespace EdgeGuard.Publication.Tests.Pki;

public sealed class RejectedFolderTests : IDisposable
{
    private static readonly CertificateVerdict Untrusted = CertificateVerdict.Refuse(StatusCode.BadCertificateUntrusted, "not trusted: CN=client");

    private readonly PkiBench _bench = new();

    [Fact]
    public void A_refused_certificate_is_kept_with_its_cause()
    {
        var folder = new RejectedFolder(_bench.Paths.Rejected);
        folder.Keep(PkiBench.Facts(PkiBench.Client), Untrusted, PkiBench.Start, 0);
        RejectedCertificate kept = Assert.Single(new RejectedFolder(_bench.Paths.Rejected).List());
        Assert.Equal(PkiBench.Client, kept.Certificate.Der);
        Assert.Equal("BadCertificateUntrusted", kept.Status);
        Assert.Equal("not trusted: CN=client", kept.Cause);
    }

    [Fact]
    public void The_same_one_is_written_once_a_minute_and_at_once_when_the_cause_changes()
    {
        var folder = new RejectedFolder(_bench.Paths.Rejected);
        CertificateFacts client = PkiBench.Facts(PkiBench.Client);
        string path = Path.Combine(_bench.Paths.Rejected, client.Thumbprint + ".der");
        folder.Keep(client, Untrusted, PkiBench.Start, 0);
        File.Delete(path);
        folder.Keep(client, Untrusted, PkiBench.Start, 59_999);
        Assert.False(File.Exists(path));
        folder.Keep(client, Untrusted, PkiBench.Start, 60_000);
        Assert.True(File.Exists(path));
        folder.Keep(client, CertificateVerdict.Refuse(StatusCode.BadCertificateTimeInvalid, "expired"), PkiBench.Start, 60_001);
        Assert.Equal("expired", Assert.Single(folder.List()).Cause);
    }

    [Fact]
    public void A_flood_writes_ten_at_once_then_one_a_second_and_keeps_fifty()
    {
        var folder = new RejectedFolder(_bench.Paths.Rejected);
        CertificateFacts[] flood = Flood(80);
        for (int i = 0; i < 30; i++)
        {
            folder.Keep(flood[i], Untrusted, PkiBench.Start, 100_000);
        }

        Assert.Equal(10, folder.List().Count);
        Assert.Equal(20, folder.Dropped);
        for (int i = 0; i < 80; i++)
        {
            folder.Keep(flood[i], Untrusted, PkiBench.Start, 200_000 + (i * 1000L));
        }

        Assert.Equal(20, folder.Dropped);
        Assert.Equal(RejectedFolder.KeptMax, folder.List().Count);
        Assert.Equal(RejectedFolder.KeptMax * 2, Directory.GetFiles(_bench.Paths.Rejected).Length);
        Assert.Contains(folder.List(), r => string.Equals(r.Certificate.Thumbprint, flood[79].Thumbprint, StringComparison.Ordinal));
    }

    [Fact]
    public void A_folder_that_cannot_be_written_loses_only_the_copy()
    {
        var folder = new RejectedFolder(Path.Combine(_bench.Data, "missing"));
        folder.Keep(PkiBench.Facts(PkiBench.Client), Untrusted, PkiBench.Start, 0);
        Assert.Equal(1, folder.Dropped);
        Assert.Empty(folder.List());
    }

    public void Dispose() => _bench.Dispose();

    private static CertificateFacts[] Flood(int count)
    {
        using var key = RSA.Create(2048);
        var from = new DateTimeOffset(PkiBench.Start);
        return [.. Enumerable.Range(0, count).Select(i =>
            PkiBench.Facts(new CertificateRequest("CN=flood " + i, key, HashAlgorithmName.SHA256, RSASignaturePadding.Pkcs1).CreateSelfSigned(from, from.AddDays(1)).RawData))];
    }
}
