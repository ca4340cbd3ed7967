using EdgeGuard.OpcUa.Server;
using EdgeGuard.Publication.Pki;

namespace EdgeGuard.Publication.Tests.Pki;

public sealed class SecurityPartsTests : IDisposable
{
    private readonly PkiBench _bench = new();
    private readonly ListLog _log = new();

    [Fact]
    public void First_start_makes_a_certificate_with_the_URI_of_machine_and_site_and_the_next_one_keeps_it()
    {
        using SecurityParts first = SecurityParts.Open(_bench.Data, "pilot hall", _log);
        Assert.Equal($"urn:{Environment.MachineName.ToLowerInvariant()}:edgeguard:pilot%20hall", first.ApplicationUri);
        using SecurityParts second = SecurityParts.Open(_bench.Data, "renamed hall", _log);
        Assert.Equal(first.Instance.Der, second.Instance.Der);
        Assert.Equal(first.ApplicationUri, second.ApplicationUri);
        Assert.Empty(_log.Refusals);
    }

    [Fact]
    public void A_certificate_that_is_about_to_expire_is_told_at_start()
    {
        OwnCertificateFolder.Renew(_bench.Paths, OwnCertificateOptions.ForThisHost("hall") with { ValidDays = 8 }, DateTime.UtcNow).Dispose();
        using SecurityParts parts = SecurityParts.Open(_bench.Data, "hall", _log);
        Assert.Contains("expires in 7 days", Assert.Single(_log.Refusals), StringComparison.Ordinal);
    }

    public void Dispose() => _bench.Dispose();

    private sealed class ListLog : IServerLog
    {
        public List<string> Refusals { get; } = [];

        public void Note(string sentence)
        {
        }

        public void Refused(string sentence) => Refusals.Add(sentence);
    }
}
