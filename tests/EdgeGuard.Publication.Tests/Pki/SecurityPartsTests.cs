using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.Records.Certificates;
using EdgeGuard.OpcUa.Server;
using EdgeGuard.Publication.Pki;
using EdgeGuard.Publication.Tests.Rigs;

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
    public void A_certificate_that_is_about_to_expire_is_told_at_start_and_stands_in_the_space()
    {
        OwnCertificateFolder.Renew(_bench.Paths, OwnCertificateOptions.ForThisHost("hall") with { ValidDays = 7 }, DateTime.UtcNow).Dispose();
        using SecurityParts parts = SecurityParts.Open(_bench.Data, "hall", _log);
        using var ring = new RingRig();
        using var host = new PublicationHost(HostRig.Options(ring) with { Log = _log, CertificateNotAfterUtc = parts.Certificate.NotAfterUtc });
        host.Start();
        Assert.True(SpinWait.SpinUntil(() => Value(host, "CertificateExpiry").Status == StatusCode.Good, 60_000), "the certificate was not looked at");
        Assert.Equal((6L, (long)ExpiryLevel.Within7Days), (Value(host, "CertificateDaysLeft").Value.AsInteger, Value(host, "CertificateExpiry").Value.AsInteger));
        Assert.Equal(UaDateTime.FromUtc(parts.Certificate.NotAfterUtc), Value(host, "CertificateEnd").Value.AsDateTime);
        Assert.Single(_log.Refusals, static l => l.Contains("expires in 6 days", StringComparison.Ordinal));
    }

    private static DataValue Value(PublicationHost host, string name)
    {
        Assert.True(host.Server.Space.TryFind(new NodeId(2, "/publisher/" + name), out VariableNode? node));
        node.Sample(out DataValue value);
        return value;
    }

    public void Dispose() => _bench.Dispose();

    private sealed class ListLog : IServerLog
    {
        public System.Collections.Concurrent.ConcurrentQueue<string> Refusals { get; } = new();

        public void Note(string sentence)
        {
        }

        public void Refused(string sentence) => Refusals.Enqueue(sentence);
    }
}
