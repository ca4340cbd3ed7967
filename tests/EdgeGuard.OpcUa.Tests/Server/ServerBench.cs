using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Server;
using EdgeGuard.OpcUa.Sessions;
using EdgeGuard.OpcUa.Tests.SecureChannel;

namespace EdgeGuard.OpcUa.Tests.Server;

/// <summary>A whole server in memory with a small plant, and a clock that only moves on demand.</summary>
internal sealed class ServerBench : IDisposable
{
    public const string ApplicationUri = "urn:pilot-hall:EdgeGuard:server";
    private const long StartUnixMs = 1_772_000_000_000;
    private readonly List<BenchClient> _clients = [];

    public ServerBench(UaServerOptions? options = null)
    {
        Space = new NodeSpace(Now.Utc);
        StandardNodes.Load(Space);
        var builder = new SpaceBuilder(Space);
        ObjectNode unit = builder.AddFolder(builder.Objects, "N-1", "N-1");
        Outlet = builder.AddAnalog(unit, new VariableSpec("N-1/outlet", "outlet", new NodeId(StandardIds.Double)), "°C", 0, 200);
        Flow = builder.AddAnalog(unit, new VariableSpec("N-1/flow", "flow", new NodeId(StandardIds.Double)), "kg/h");
        State = builder.AddVariable(unit, new VariableSpec("N-1/state", "state", new NodeId(StandardIds.String)));
        Trend = builder.AddVariable(unit, new VariableSpec("N-1/trend", "trend", new NodeId(StandardIds.Double)) { ValueRank = 1 });
        Stop = builder.AddMethod(
            unit, "N-1/stop", "stop", (caller, _, inputs) =>
            {
                Calls.Add($"{caller.UserName} {inputs[0].AsString}");
                return new CallMethodResult { OutputArguments = [new Variant("stopped")] };
            },
            CallerRoles.Operator, [SpaceBuilder.Scalar("reason", StandardIds.String, "why")], [SpaceBuilder.Scalar("answer", StandardIds.String, "what became of it")]);
        Set(Outlet, 20);
        Set(Flow, 100);
        State.Set(new Variant("Ready"), Now.Utc);
        Server = new UaServer(options ?? Plain, Space);
        ServerObject.Fill(Space, Facts(Server.Options), new RunningState(Server, Now.Utc));
    }

    public static UaServerOptions Plain { get; } = new()
    {
        ApplicationUri = ApplicationUri,
        ApplicationName = "EdgeGuard bench",
        EndpointUrl = "opc.tcp://pilot-hall:4840",
        AllowNoneSessions = true,
        Operations = new OperationLimits { SamplingIntervalMinMs = 100 },
    };

    public static UaServerOptions Secured(IUserAuthority? users = null) => Plain with
    {
        Channel = new ServerChannelOptions { Instance = TestParties.Server, Judge = new ListJudge(TestParties.Client), Policies = SecurityPolicy.All },
        Users = users,
    };

    public NodeSpace Space { get; }

    public UaServer Server { get; }

    public VariableNode Outlet { get; }

    public VariableNode Flow { get; }

    public VariableNode State { get; }

    public VariableNode Trend { get; }

    public MethodNode Stop { get; }

    public List<string> Calls { get; } = [];

    public long NowMs { get; private set; } = 1_000;

    /// <summary>Shift of the wall clock alone, for tests of a clock step.</summary>
    public long ClockStepMs { get; set; }

    public ChannelClock Now => new(NowMs, UaDateTime.FromUnixMs(StartUnixMs + NowMs + ClockStepMs));

    public void Set(VariableNode node, double value, StatusCode status = StatusCode.Good) => node.Set(new DataValue(new Variant(value), status, Now.Utc));

    /// <summary>Moves the time in steps of 10 ms, ticking at each as a shell would.</summary>
    public void Run(long ms)
    {
        for (long end = NowMs + ms; NowMs < end;)
        {
            NowMs += 10;
            Server.Tick(Now);
            _clients.ForEach(static client => client.Pump());
        }
    }

    /// <summary>Lets time pass in which the shell was not called.</summary>
    public void Jump(long ms)
    {
        NowMs += ms;
        Server.Tick(Now);
    }

    public BenchClient Connect(SecurityPolicy? policy = null, MessageSecurityMode mode = MessageSecurityMode.None)
    {
        var client = new BenchClient(this, policy ?? SecurityPolicy.None, mode);
        _clients.Add(client);
        client.Pump();
        return client;
    }

    /// <summary>Takes a client whose socket has broken out of the bench.</summary>
    public void Forget(BenchClient client)
    {
        client.Drop();
        _clients.Remove(client);
        client.Dispose();
    }

    /// <summary>A client with an active anonymous session.</summary>
    public BenchClient Activated(SecurityPolicy? policy = null, MessageSecurityMode mode = MessageSecurityMode.None)
    {
        BenchClient client = Connect(policy, mode);
        client.CreateSession();
        client.Activate();
        return client;
    }

    public void Dispose()
    {
        Server.Dispose();
        _clients.ForEach(static client => client.Dispose());
    }

    private static ServerFacts Facts(UaServerOptions options) => new()
    {
        ApplicationUri = options.ApplicationUri,
        Namespaces = ["urn:pilot-hall:site"],
        ProductUri = options.ProductUri,
        ManufacturerName = "EdgeGuard maintainers",
        ProductName = "EdgeGuard",
        SoftwareVersion = "0",
        Limits = options.Operations,
    };
}
