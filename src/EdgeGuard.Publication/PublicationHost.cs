using System.Net;
using System.Net.Sockets;
using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Server;
using EdgeGuard.OpcUa.Transport;
using EdgeGuard.Publication.Discovery;
using EdgeGuard.Publication.Hosting;
using EdgeGuard.Publication.Pki;
using EdgeGuard.Publication.Site;

namespace EdgeGuard.Publication;

/// <summary>
/// The publisher: one thread takes scans from the ring into the nodes and drives the engine's clock; sockets have loops of
/// their own. It only reads the guard's files and asks through the guard's socket.
/// </summary>
public sealed class PublicationHost : IDisposable
{
    // Registered port of OPC UA; told only to clients whose own URL cannot be read, when a free port was asked for.
    private const int DefaultPort = 4840;
    private const int PollMsMin = 5;
    private const int PollMsMax = 20;
    private const int PollsPerScan = 5;
    private const int MessageBytesMax = 4_194_304;
    private const int CertificateLookMs = 60_000;
    private const string ProductUri = "urn:edgeguard";

    private readonly PublicationOptions _options;
    private readonly UaServer _server;
    private readonly SocketHost _sockets;
    private readonly RingFeed _feed;
    private readonly GuardCalls? _calls;
    private readonly PublisherNodes _self;
    private readonly CertificateWatch? _certificate;
    private readonly DiscoveryRegistrar? _registrar;
    private readonly Thread _thread;
    private readonly ManualResetEventSlim _stop = new();
    private long _rounds;

    /// <summary>Builds the address space and listens.</summary>
    /// <exception cref="SocketException">The port is in use or may not be used.</exception>
    public PublicationHost(PublicationOptions options)
    {
        ArgumentNullException.ThrowIfNull(options);
        _options = options;
        ChannelClock now = HostClock.Now;
        var space = new NodeSpace(now.Utc);
        StandardNodes.Load(space);
        var operations = new OperationLimits { SamplingIntervalMinMs = options.Site.ScanMs };
        SiteNodes nodes = new SiteSpaceBuilder(new SpaceBuilder(space), options.Site, options.LinkNames, options.ProofTests).Build();
        _calls = options.Requests is { } requests ? new GuardCalls(requests) : null;
        if (_calls is not null)
        {
            new UnitMethods(new SpaceBuilder(space), _calls).AddTo(options.Site);
        }

        _self = new PublisherNodes(new SpaceBuilder(space), nodes.Folder);
        _certificate = options.CertificateNotAfterUtc is { } end ? new CertificateWatch(end, options.Log) : null;
        _feed = new RingFeed(Feed(options), nodes, now.MonotonicMs);
        _server = new UaServer(ServerOptions(options, operations), space);
        ServerObject.Fill(space, Facts(options, operations), new PublisherState(_server, _feed, now.Utc));
        _sockets = new SocketHost(_server, options.EndPoint, options.Log);
        _registrar = Registrar();
        _thread = new Thread(Run) { IsBackground = true, Name = "publish" };
    }

    /// <summary>Port listened on.</summary>
    public int Port => _sockets.Port;

    /// <summary>Rounds of the publishing thread; a figure that stands still is a publisher that hangs.</summary>
    public long Rounds => Volatile.Read(ref _rounds);

    /// <summary>The engine, for figures.</summary>
    public UaServer Server => _server;

    /// <summary>Starts.</summary>
    public void Start()
    {
        _thread.Start();
        _sockets.Start();
        _registrar?.Start();
    }

    /// <summary>Ends all connections and stops.</summary>
    public void Dispose()
    {
        const int JoinMs = 2000;
        _stop.Set();
        _registrar?.Dispose();
        _sockets.Dispose();
        if (_thread.IsAlive)
        {
            _thread.Join(JoinMs);
        }

        _server.Dispose();
        _feed.Dispose();
        _calls?.Dispose();
        _stop.Dispose();
    }

    private static FeedOptions Feed(PublicationOptions options) => new()
    {
        Site = options.Site,
        LinkNames = options.LinkNames,
        SiteDigest = options.SiteDigest,
        RingPath = options.RingPath,
        JournalHeadPath = options.JournalHeadPath,
        LateMs = options.GuardLateMs,
        LostMs = options.GuardLostMs,
        Log = options.Log,
    };

    private static UaServerOptions ServerOptions(PublicationOptions options, OperationLimits operations)
    {
        IReadOnlyList<SecurityPolicy> policies = options.Instance is null ? [SecurityPolicy.None] : SecurityPolicy.All;
        return new UaServerOptions
        {
            ApplicationUri = options.ApplicationUri,
            ApplicationName = NameOf(options),
            EndpointUrl = $"opc.tcp://{HostName(options.EndPoint)}:{(options.EndPoint.Port == 0 ? DefaultPort : options.EndPoint.Port)}",
            Channel = new ServerChannelOptions
            {
                Instance = options.Instance,
                Judge = options.Judge,
                Policies = policies,
                Limits = new TransportLimits { SendMessageBytesMax = MessageBytesMax },
                OutputBytesMax = 2 * MessageBytesMax,
            },
            AllowNoneSessions = options.AllowNone,
            AllowAnonymous = options.AllowAnonymous,
            Users = options.Users,
            Operations = operations,
            Limits = options.Limits,
            Log = options.Log,
        };
    }

    private static string NameOf(PublicationOptions options) => $"EdgeGuard {options.Site.Name}";

    private DiscoveryRegistrar? Registrar() => _options is { DiscoveryServer: { } server, Instance: { } instance, DiscoveryJudge: { } judge }
        ? new DiscoveryRegistrar(
            new DiscoveryOptions
            {
                Server = server,
                EveryMs = _options.RegisterEveryMs,
                OwnUrl = $"opc.tcp://{HostName(_options.EndPoint)}:{Port}",
                ApplicationUri = _options.ApplicationUri,
                ProductUri = ProductUri,
                ApplicationName = NameOf(_options),
                Instance = instance,
                Judge = judge,
            },
            _options.Log)
        : null;

    private static string HostName(IPEndPoint endPoint) => endPoint.Address.Equals(IPAddress.Any) || endPoint.Address.Equals(IPAddress.IPv6Any) ? Environment.MachineName
        : endPoint.Address.AddressFamily == AddressFamily.InterNetworkV6 ? $"[{endPoint.Address}]" // RFC 3986, 3.2.2
        : endPoint.Address.ToString();

    private static ServerFacts Facts(PublicationOptions options, OperationLimits operations) => new()
    {
        ApplicationUri = options.ApplicationUri,
        Namespaces = ["urn:edgeguard:site:" + Uri.EscapeDataString(options.Site.Name)],
        ProductUri = ProductUri,
        ManufacturerName = "EdgeGuard maintainers",
        ProductName = "EdgeGuard",
        SoftwareVersion = options.Version,
        BuildNumber = options.Version,
        Limits = operations,
    };

    private void Run()
    {
        long nextLookMs = 0;
        int pollMs = Math.Clamp(_options.Site.ScanMs / PollsPerScan, PollMsMin, PollMsMax);
        while (!_stop.IsSet)
        {
            ChannelClock now = HostClock.Now;
            if (now.MonotonicMs >= nextLookMs)
            {
                nextLookMs = now.MonotonicMs + CertificateLookMs;
                LookAtCertificate(now.Utc);
            }

            _feed.Poll(now, _server.Updated);
            long next = _server.Tick(now);
            Volatile.Write(ref _rounds, _rounds + 1);
            long waitMs = Math.Clamp(next - HostClock.MonotonicMs, 1, pollMs);
            _stop.Wait((int)waitMs);
        }
    }

    private void LookAtCertificate(UaDateTime now)
    {
        if (_certificate is null)
        {
            _self.WriteNone(now);
        }
        else
        {
            _self.Write(_certificate.NotAfterUtc, _certificate.Look(now.ToUtc()), now);
        }
    }
}
