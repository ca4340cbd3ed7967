using System.Net;
using System.Security.Cryptography.X509Certificates;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Security;
using EdgeGuard.Publication.Pki;

namespace EdgeGuard.Publication.Tests.Pki;

public sealed class OwnCertificateFolderTests : IDisposable
{
    private static readonly OwnCertificateOptions Options = new() { ApplicationUri = "urn:edge:edgeguard:hall", CommonName = "EdgeGuard hall", DnsNames = ["edge.hall"], Addresses = [IPAddress.Loopback] };

    private readonly PkiBench _bench = new();

    private string Pair => Path.Combine(_bench.Paths.Own, OwnCertificateFolder.PairFile);

    [Fact]
    public void It_is_made_once_and_kept()
    {
        using X509Certificate2 first = OwnCertificateFolder.LoadOrCreate(_bench.Paths, Options, PkiBench.Start);
        using X509Certificate2 second = OwnCertificateFolder.LoadOrCreate(_bench.Paths, Options with { DnsNames = ["other.hall"] }, PkiBench.Start.AddDays(1));
        Assert.Equal(first.RawData, second.RawData);
        Assert.Equal(first.RawData, File.ReadAllBytes(Path.Combine(_bench.Paths.Own, OwnCertificateFolder.CopyFile)));
        using var instance = new ApplicationInstance(second);
        CertificateFacts facts = PkiBench.Facts(instance.Der);
        Assert.Equal(["urn:edge:edgeguard:hall"], facts.Uris);
        Assert.Equal(["edge.hall", "127.0.0.1"], facts.HostNames);
        Assert.Equal(PkiBench.Start.AddDays(-1), facts.NotBeforeUtc);
    }

    [Fact]
    public void The_key_is_for_the_owner_only()
    {
        OwnCertificateFolder.LoadOrCreate(_bench.Paths, Options, PkiBench.Start).Dispose();
        if (!OperatingSystem.IsWindows())
        {
            Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(Pair));
            Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute, File.GetUnixFileMode(_bench.Paths.Own));
        }

        Assert.DoesNotContain(Directory.GetFiles(_bench.Paths.Own), static f => f.EndsWith(".new", StringComparison.Ordinal));
    }

    [Fact]
    public void A_key_that_others_can_read_is_not_used()
    {
        OwnCertificateFolder.LoadOrCreate(_bench.Paths, Options, PkiBench.Start).Dispose();
        if (!OperatingSystem.IsWindows())
        {
            File.SetUnixFileMode(Pair, File.GetUnixFileMode(Pair) | UnixFileMode.GroupRead);
            var fault = Assert.Throws<PkiException>(() => OwnCertificateFolder.LoadOrCreate(_bench.Paths, Options, PkiBench.Start));
            Assert.Contains("found mode 640; expected 600", fault.Message, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void A_damaged_file_is_told_and_not_replaced()
    {
        OwnCertificateFolder.LoadOrCreate(_bench.Paths, Options, PkiBench.Start).Dispose();
        string text = File.ReadAllText(Pair);
        File.WriteAllText(Pair, text[..(text.Length / 2)]);
        var fault = Assert.Throws<PkiException>(() => OwnCertificateFolder.LoadOrCreate(_bench.Paths, Options, PkiBench.Start));
        Assert.Contains("try edgeguard certs renew", fault.Message, StringComparison.Ordinal);
        Assert.Equal(text[..(text.Length / 2)], File.ReadAllText(Pair));
    }

    [Fact]
    public void Renewal_replaces_key_and_certificate_together()
    {
        using X509Certificate2 first = OwnCertificateFolder.LoadOrCreate(_bench.Paths, Options, PkiBench.Start);
        OwnCertificateFolder.Renew(_bench.Paths, Options with { DnsNames = ["new.hall"] }, PkiBench.Start).Dispose();
        using X509Certificate2 loaded = OwnCertificateFolder.LoadOrCreate(_bench.Paths, Options, PkiBench.Start);
        Assert.NotEqual(first.PublicKey.ExportSubjectPublicKeyInfo(), loaded.PublicKey.ExportSubjectPublicKeyInfo());
        Assert.True(loaded.HasPrivateKey);
        Assert.Contains("new.hall", OwnCertificateFolder.TryShow(_bench.Paths, out _)!.HostNames);
    }

    public void Dispose() => _bench.Dispose();
}
