using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.Publication.Pki;

namespace EdgeGuard.Publication.Tests.Pki;

public sealed class FolderJudgeTests : IDisposable
{
    private readonly PkiBench _bench = new();

    [Trait("requirement", "PUBL-3")]
    [Fact]
    public void A_stranger_is_refused_kept_and_let_in_once_trusted()
    {
        var judge = new FolderJudge(_bench.Paths, _bench.Notes.Add, _bench.Clock);
        using PeerCertificate client = PkiBench.Peer(PkiBench.Client);
        CertificateVerdict first = judge.Judge(client);
        Assert.Equal(StatusCode.BadCertificateUntrusted, first.Status);
        Assert.Equal(StatusCode.BadSecurityChecksFailed, first.WireStatus);
        var shelf = new CertificateShelf(_bench.Paths);
        StoredCertificate kept = Assert.Single(shelf.List(ShelfPlace.Rejected));
        shelf.Trust(kept.Certificate, ShelfPlace.Trusted);
        Assert.Empty(shelf.List(ShelfPlace.Rejected));
        _bench.NowMs += 1000;
        Assert.True(judge.Judge(client).Trusted);
        Assert.True(shelf.Reject(kept.Certificate, PkiBench.Start));
        _bench.NowMs += 1000;
        Assert.Equal(StatusCode.BadCertificateUntrusted, judge.Judge(client).Status);
        Assert.False(shelf.Reject(kept.Certificate, PkiBench.Start));
    }

    [Fact]
    public void What_was_refused_before_it_could_be_judged_is_kept_too_and_garbage_is_not()
    {
        var judge = new FolderJudge(_bench.Paths, _bench.Notes.Add, _bench.Clock);
        judge.Refused(PkiBench.Client, CertificateVerdict.Refuse(StatusCode.BadCertificatePolicyCheckFailed, "the key is 1024 bits long"));
        judge.Refused([1, 2, 3], CertificateVerdict.Refuse(StatusCode.BadCertificateInvalid, "no certificate"));
        Assert.Equal("the key is 1024 bits long", Assert.Single(new RejectedFolder(_bench.Paths.Rejected).List()).Cause);
    }

    [Fact]
    public void A_certificate_is_found_by_the_first_digits_of_its_thumbprint()
    {
        var shelf = new CertificateShelf(_bench.Paths);
        string thumbprint = PkiBench.Facts(PkiBench.Client).Thumbprint;
        File.WriteAllText(Path.Combine(_bench.Paths.Trusted, "any name.pem"), PkiBench.Pem(PkiBench.Client));
        Assert.Equal(ShelfPlace.Trusted, Assert.Single(shelf.Find(thumbprint[..8].ToLowerInvariant())).Place);
        Assert.Single(shelf.Find(string.Join(':', thumbprint.Chunk(2).Select(static c => new string(c)))));
        Assert.Empty(shelf.Find(thumbprint[..7]));
        Assert.Empty(shelf.Find("../../etc/passwd"));
        Assert.True(shelf.Reject(PkiBench.Facts(PkiBench.Client), PkiBench.Start));
        Assert.Empty(Directory.GetFiles(_bench.Paths.Trusted));
    }

    public void Dispose() => _bench.Dispose();
}
