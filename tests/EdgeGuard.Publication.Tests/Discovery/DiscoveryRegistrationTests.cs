using System.Net;
using System.Net.Sockets;
using System.Security.Cryptography.X509Certificates;
using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.Publication.Discovery;
using EdgeGuard.Publication.Tests.Rigs;

namespace EdgeGuard.Publication.Tests.Discovery;

/// <summary>What becomes of a registration when the other side is no discovery server, not the one it says, or says nothing.</summary>
public sealed class DiscoveryRegistrationTests : IDisposable
{
    private const string OwnUri = "urn:pilot-hall:edgeguard";
    private const string PeerUri = "urn:pilot-hall:discovery";
    private const int LimitMs = 500;
    private const int PatienceMs = 60_000;

    private readonly ApplicationInstance _own = Make(OwnUri);
    private readonly ApplicationInstance _peer = Make(PeerUri);
    private readonly RingRig _ring = new();
    private readonly TcpListener _listener = new(IPAddress.Loopback, 0);

    public DiscoveryRegistrationTests() => _listener.Start();

    public void Dispose()
    {
        _listener.Dispose();
        _ring.Dispose();
        _own.Dispose();
        _peer.Dispose();
    }

    [Fact]
    public void A_server_that_knows_neither_service_is_told_by_its_refusal()
    {
        using PublicationHost peer = Start(_peer, PeerUri);
        Assert.Contains("refuses: BadServiceUnsupported", Fails<IOException>(peer.Port), StringComparison.Ordinal);
    }

    [Fact]
    public void An_address_of_version_6_is_dialled()
    {
        Assert.SkipUnless(HasVersion6(), "no IPv6 on this machine");
        using var peer = new PublicationHost(HostRig.Options(_ring) with { EndPoint = new IPEndPoint(IPAddress.IPv6Loopback, 0), Instance = _peer, ApplicationUri = PeerUri, Judge = FixedJudge.Accepting });
        peer.Start();
        var registration = new DiscoveryRegistration(Options(0, FixedJudge.Accepting) with { Server = new Uri($"opc.tcp://[::1]:{peer.Port}"), LimitMs = PatienceMs });
        Assert.Contains("refuses: BadServiceUnsupported", Assert.Throws<IOException>(() => registration.Register(online: true)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Without_security_nothing_is_registered()
    {
        using PublicationHost peer = Start(null, PeerUri);
        Assert.Contains("no endpoint with a security", Fails<IOException>(peer.Port), StringComparison.Ordinal);
    }

    [Fact]
    public void A_server_that_is_not_trusted_hears_nothing()
    {
        using PublicationHost peer = Start(_peer, PeerUri);
        Assert.Contains("known to nobody", Fails<IOException>(peer.Port, new FixedJudge(CertificateVerdict.Refuse(StatusCode.BadCertificateUntrusted, "known to nobody"))), StringComparison.Ordinal);
    }

    [Fact]
    public void An_endpoint_that_is_not_of_its_certificates_application_is_refused()
    {
        using PublicationHost peer = Start(_peer, "urn:pilot-hall:another");
        Assert.Contains("another application URI", Fails<IOException>(peer.Port), StringComparison.Ordinal);
    }

    [Fact]
    public void A_peer_that_says_nothing_is_given_up_in_time()
    {
        long start = Environment.TickCount64;
        Fails<SocketException>(Port);
        Assert.InRange(Environment.TickCount64 - start, LimitMs / 2, PatienceMs);
    }

    [Fact]
    public void A_peer_that_answers_in_drips_is_given_up_in_time()
    {
        using var ends = new CancellationTokenSource();
        var dripper = new Thread(() => Drip(ends.Token)) { IsBackground = true };
        dripper.Start();
        Fails<SocketException>(Port);
        ends.Cancel();
        dripper.Join();
    }

    [Fact]
    public void A_peer_that_talks_nonsense_is_left()
    {
        var talker = new Thread(() =>
        {
            using Socket socket = _listener.AcceptSocket();
            socket.Send("HTTP/1.1 400 Bad Request\r\n\r\n"u8);
        })
        { IsBackground = true };
        talker.Start();
        Assert.Contains("the connection ended", Fails<IOException>(Port), StringComparison.Ordinal);
        talker.Join();
    }

    [Fact]
    public void The_registrar_tries_again_and_tells_a_cause_once()
    {
        int port = Port;
        _listener.Stop();
        var log = new ListLog();
        using (var registrar = new DiscoveryRegistrar(Options(port, FixedJudge.Accepting) with { RetryMs = 1, EveryMs = 40 }, log))
        {
            registrar.Start();
            Assert.True(SpinWait.SpinUntil(() => !log.Lines.IsEmpty, PatienceMs));
            Thread.Sleep(300);
            Assert.Contains("Connection refused", Assert.Single(log.Lines), StringComparison.Ordinal);
            using PublicationHost peer = Start(_peer, PeerUri, port);
            Assert.True(SpinWait.SpinUntil(() => log.Lines.Count == 2, PatienceMs), "it did not try again");
        }

        Assert.Contains("refuses: BadServiceUnsupported", log.Lines.Last(), StringComparison.Ordinal);
    }

    private int Port => ((IPEndPoint)_listener.LocalEndpoint).Port;

    private static ApplicationInstance Make(string uri)
    {
        using X509Certificate2 made = ApplicationCertificate.CreateSelfSigned("pilot hall", uri, ["localhost"], [], DateTime.UtcNow, 30);
        return new ApplicationInstance(made);
    }

    private PublicationHost Start(ApplicationInstance? instance, string uri, int port = 0)
    {
        var host = new PublicationHost(HostRig.Options(_ring, port) with { Instance = instance, ApplicationUri = uri, Judge = FixedJudge.Accepting });
        host.Start();
        return host;
    }

    private DiscoveryOptions Options(int port, ICertificateJudge judge) => new()
    {
        Server = new Uri($"opc.tcp://127.0.0.1:{port}"),
        EveryMs = 300_000,
        OwnUrl = "opc.tcp://127.0.0.1:4840",
        ApplicationUri = OwnUri,
        ProductUri = "urn:edgeguard",
        ApplicationName = "pilot hall",
        Instance = _own,
        Judge = judge,
    };

    // The message of what it fails with; silence has its own limit, all else the patience of the test.
    private string Fails<T>(int port, ICertificateJudge? judge = null)
        where T : Exception
    {
        int limitMs = typeof(T) == typeof(SocketException) ? LimitMs : PatienceMs;
        return Assert.Throws<T>(() => new DiscoveryRegistration(Options(port, judge ?? FixedJudge.Accepting) with { LimitMs = limitMs }).Register(online: true)).Message;
    }

    private static bool HasVersion6()
    {
        try
        {
            using var listener = new TcpListener(IPAddress.IPv6Loopback, 0);
            listener.Start();
            return true;
        }
        catch (SocketException)
        {
            return false;
        }
    }

    // The beginning of an Acknowledge (OPC 10000-6, 7.1.2.4), a byte each 50 ms: each receive gets something in time.
    private void Drip(CancellationToken ends)
    {
        using Socket socket = _listener.AcceptSocket();
        byte[] head = [.. "ACKF"u8, 0x1C, 0, 0, 0];
        for (int i = 0; !ends.IsCancellationRequested; i++)
        {
            try
            {
                socket.Send(head, Math.Min(i, head.Length - 1), i < head.Length ? 1 : 0, SocketFlags.None);
            }
            catch (SocketException)
            {
                return; // given up
            }

            Thread.Sleep(50);
        }
    }

    private sealed class FixedJudge(CertificateVerdict verdict) : ICertificateJudge
    {
        public static readonly FixedJudge Accepting = new(CertificateVerdict.Accept);

        public CertificateVerdict Judge(PeerCertificate certificate) => verdict;
    }
}
