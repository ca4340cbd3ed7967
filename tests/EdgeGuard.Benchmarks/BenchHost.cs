using System.Globalization;
using System.Net;
using System.Security.Cryptography.X509Certificates;
using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Server;
using EdgeGuard.OpcUa.Transport;
using EdgeGuard.Publication.Hosting;

namespace EdgeGuard.Benchmarks;

/// <summary>
/// Our server as <c>edgeguard publish</c> runs it, on a space of Doubles that all change every 100 ms: the value is the
/// number of the change, so that a client can tell whether one was lost. One thread writes values and drives the engine.
/// </summary>
internal sealed class BenchHost : IDisposable
{
    public const int ChangeMs = 100;
    private const int PollMs = 20;
    private const int MessageBytesMax = 4_194_304;
    private const string Uri = "urn:edgeguard:bench";

    private readonly VariableNode[] _variables;
    private readonly UaServer _server;
    private readonly SocketHost _sockets;
    private readonly ManualResetEventSlim _stop = new();

    private BenchHost(int items, ApplicationInstance instance)
    {
        (NodeSpace space, _variables) = CreateSpace(items);
        var log = new NoLog();
        _server = new UaServer(Options(instance, log), space);
        _sockets = new SocketHost(_server, new IPEndPoint(IPAddress.Loopback, 0), log);
    }

    /// <summary>Serves until the standard input ends; "live" on it is answered by the bytes in use after a collection, any other line by the bytes allocated so far.</summary>
    public static int Run(int items)
    {
        using X509Certificate2 certificate = ApplicationCertificate.CreateSelfSigned("EdgeGuard bench", Uri, ["localhost"], [IPAddress.Loopback], DateTime.UtcNow);
        using var instance = new ApplicationInstance(certificate);
        using var host = new BenchHost(items, instance);
        host._sockets.Start();
        var thread = new Thread(host.Drive) { IsBackground = true, Name = "publish" };
        thread.Start();
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"ready {host._sockets.Port}"));
        while (Console.ReadLine() is { } line)
        {
            Console.WriteLine(line == "live"
                ? string.Create(CultureInfo.InvariantCulture, $"live {GC.GetTotalMemory(forceFullCollection: true)}")
                : string.Create(CultureInfo.InvariantCulture, $"allocated {GC.GetTotalAllocatedBytes(precise: true)}"));
        }

        host._stop.Set();
        thread.Join();
        return 0;
    }

    public void Dispose()
    {
        _sockets.Dispose();
        _server.Dispose();
        _stop.Dispose();
    }

    /// <summary>So many Doubles in a folder.</summary>
    internal static (NodeSpace Space, VariableNode[] Variables) CreateSpace(int items)
    {
        var space = new NodeSpace(HostClock.Now.Utc);
        StandardNodes.Load(space);
        var builder = new SpaceBuilder(space);
        ObjectNode folder = builder.AddFolder(builder.Objects, "bench", "bench");
        var variables = new VariableNode[items];
        for (int i = 0; i < items; i++)
        {
            string id = BenchIds.Text(i);
            variables[i] = builder.AddVariable(folder, new VariableSpec(id, id, new NodeId(StandardIds.Double)));
            variables[i].Set(new Variant(0.0), HostClock.Now.Utc);
        }

        return (space, variables);
    }

    /// <summary>The options of the publisher.</summary>
    internal static UaServerOptions Options(ApplicationInstance instance, NoLog log) => new()
    {
        ApplicationUri = Uri,
        ApplicationName = "EdgeGuard bench",
        EndpointUrl = "opc.tcp://localhost",
        Channel = new ServerChannelOptions
        {
            Instance = instance,
            Judge = new AcceptAll(),
            Policies = SecurityPolicy.All,
            Limits = new TransportLimits { SendMessageBytesMax = MessageBytesMax },
            OutputBytesMax = 2 * MessageBytesMax,
        },
        AllowNoneSessions = true,
        Operations = new OperationLimits { SamplingIntervalMinMs = ChangeMs },
        Log = log,
    };

    private void Drive()
    {
        long changeAtMs = HostClock.MonotonicMs + ChangeMs;
        double change = 0;
        while (!_stop.IsSet)
        {
            ChannelClock now = HostClock.Now;
            if (now.MonotonicMs >= changeAtMs)
            {
                changeAtMs += ChangeMs;
                Change(++change, now);
            }

            long next = Math.Min(_server.Tick(now), changeAtMs);
            _stop.Wait((int)Math.Clamp(next - HostClock.MonotonicMs, 1, PollMs));
        }
    }

    private void Change(double value, ChannelClock now)
    {
        var changed = new DataValue(new Variant(value), StatusCode.Good, now.Utc);
        foreach (VariableNode variable in _variables)
        {
            variable.Set(changed);
        }

        _server.Updated(now);
    }
}
