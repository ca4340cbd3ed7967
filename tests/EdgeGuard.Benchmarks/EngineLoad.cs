using System.Diagnostics;
using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Server;
using EdgeGuard.Publication.Hosting;

namespace EdgeGuard.Benchmarks;

/// <summary>
/// The server's own work for a request, without sockets: a client and the server in one thread, only the server's part
/// timed. The best of many batches hardly depends on what else the machine does. Bytes allocated are exact.
/// </summary>
internal sealed class EngineLoad : IDisposable
{
    private const int Batches = 60;
    private const int BatchRequests = 250;
    private const int WarmUpRequests = 5_000;
    private const int CompileMs = 1_000;
    private readonly UaServer _server;
    private readonly UaServerPeer _peer;
    private readonly ClientConnection _client;
    private readonly byte[] _wire = new byte[1_048_576];
    private readonly string _security;
    private readonly NodeId _token;
    private UaWriter _spare;
    private uint _handle;

    private EngineLoad(ApplicationInstance instance, ApplicationInstance? own)
    {
        _security = own is null ? "plain" : "Basic256Sha256 SignAndEncrypt";
        _server = new UaServer(BenchHost.Options(instance, new NoLog()), BenchHost.CreateSpace(ReadLoad.Variables).Space);
        _peer = _server.Accept("127.0.0.1:1", "127.0.0.1", HostClock.Now)!;
        _spare = _peer.CreateOutput();
        _client = new ClientConnection(
            new ClientChannelOptions
            {
                EndpointUrl = "opc.tcp://localhost",
                Policy = own is null ? SecurityPolicy.None : SecurityPolicy.Basic256Sha256,
                Mode = own is null ? MessageSecurityMode.None : MessageSecurityMode.SignAndEncrypt,
                Instance = own,
                ServerCertificate = own is null ? null : instance.Der,
                TokenLifetimeMs = 3_600_000,
            },
            HostClock.Now);
        while (_client.State != ConnectionState.Open)
        {
            Exchange();
        }

        var created = (CreateSessionResponse)Ask(new CreateSessionRequest
        {
            ClientDescription = new ApplicationDescription { ApplicationUri = BenchRun.ClientUri, ApplicationType = ApplicationType.Client },
            EndpointUrl = "opc.tcp://localhost",
            ClientNonce = new byte[32],
            ClientCertificate = own?.Der,
            RequestedSessionTimeout = 3_600_000,
        });
        _token = created.AuthenticationToken;
        Ask(new ActivateSessionRequest { ClientSignature = SignatureProof.Create(_client.Policy, own, created.ServerCertificate, created.ServerNonce) });
    }

    /// <summary>A row for each service that a client calls again and again.</summary>
    public static void Run(ApplicationInstance own, BenchTable table)
    {
        foreach (ApplicationInstance? client in (ApplicationInstance?[])[null, own])
        {
            using var load = new EngineLoad(own, client);
            load.Tell(table, "Read of 100 Doubles", Reading(ReadLoad.Variables));
            load.Tell(table, "Read of 100 Doubles, two lists in turn", Reading(ReadLoad.Variables), Reading(ReadLoad.Variables, backwards: true));
            load.Tell(table, "Read of 1 Double", Reading(1));
            load.Tell(table, "Read of the server's state", new ReadRequest { TimestampsToReturn = TimestampsToReturn.Neither, NodesToRead = [new ReadValueId { NodeId = new NodeId(2259u), AttributeId = (uint)AttributeId.Value }] });
            load.Tell(table, "Browse of the Server object", new BrowseRequest { NodesToBrowse = [new BrowseDescription { NodeId = new NodeId(2253u), IncludeSubtypes = true, ResultMask = 63 }] });
            load.Tell(table, "TranslateBrowsePaths", new TranslateBrowsePathsToNodeIdsRequest { BrowsePaths = [new BrowsePath { StartingNode = new NodeId(84u), RelativePath = new RelativePath { Elements = [new RelativePathElement { IncludeSubtypes = true, TargetName = new QualifiedName(0, "Objects") }] } }] });
            load.Tell(table, "RegisterNodes of 100", new RegisterNodesRequest { NodesToRegister = [.. Enumerable.Range(0, ReadLoad.Variables).Select(static i => BenchIds.Of(BenchIds.OwnNamespace, i))] });
        }
    }

    public void Dispose()
    {
        _client.Dispose();
        _server.Dispose();
        _spare.Dispose();
    }

    private static ReadRequest Reading(int nodes, bool backwards = false) => new()
    {
        TimestampsToReturn = TimestampsToReturn.Both,
        NodesToRead = [.. Enumerable.Range(0, nodes).Select(i => backwards ? nodes - 1 - i : i).Select(static i => new ReadValueId { NodeId = BenchIds.Of(BenchIds.OwnNamespace, i), AttributeId = (uint)AttributeId.Value })],
    };

    // Several requests take turns.
    private void Tell(BenchTable table, string service, params IServiceRequest[] requests)
    {
        byte[][] bodies = [.. requests.Select(Encoded)];
        Batch(bodies, WarmUpRequests);

        // The runtime compiles its hot code anew in the background.
        Thread.Sleep(CompileMs);
        Batch(bodies, WarmUpRequests);
        double best = double.MaxValue;
        long allocated = long.MaxValue;
        for (int batch = 0; batch < Batches; batch++)
        {
            (long ticks, long bytes) = Batch(bodies, BatchRequests);
            best = Math.Min(best, TimeSpan.FromSeconds(ticks / (double)Stopwatch.Frequency).TotalMicroseconds / BatchRequests);
            allocated = Math.Min(allocated, bytes / BatchRequests);
        }

        table.Add("engine alone: " + service, _security, BenchTable.Figure(best, "F2", " µs"), allocated: BenchTable.Figure(allocated, "F0", " B"));
    }

    private byte[] Encoded(IServiceRequest request)
    {
        request.RequestHeader = new RequestHeader { AuthenticationToken = _token, RequestHandle = ++_handle, Timestamp = HostClock.Now.Utc };
        using var body = new UaWriter();
        ServiceMessage.Write(body, request);
        return body.Written.ToArray();
    }

    private (long Ticks, long Bytes) Batch(byte[][] bodies, int requests)
    {
        (long ticks, long bytes) = (0, 0);
        for (int i = 0; i < requests; i++)
        {
            ChannelClock now = HostClock.Now;
            _client.Send(bodies[i % bodies.Length], now, out _);
            int length = Sent();
            long allocatedBefore = GC.GetAllocatedBytesForCurrentThread();
            long start = Stopwatch.GetTimestamp();
            _peer.Receive(_wire.AsSpan(0, length), now);
            UaWriter? answer = _peer.TakeOutput(_spare);
            ticks += Stopwatch.GetTimestamp() - start;
            bytes += GC.GetAllocatedBytesForCurrentThread() - allocatedBefore;
            _spare = answer ?? throw new InvalidOperationException("no answer");
            _spare.Written.CopyTo(_wire);
            if (_client.Step(_wire.AsSpan(0, _spare.Length), now, out _) != ConnectionStep.Message)
            {
                throw new InvalidOperationException("the answer is no message: " + _client.CloseCause);
            }
        }

        return (ticks, bytes);
    }

    private IServiceResponse Ask(IServiceRequest request)
    {
        _client.Send(Encoded(request), HostClock.Now, out _);
        Exchange();
        bool good = ServiceMessage.TryReadResponse(_client.Message, UaLimits.Default, out IServiceResponse? response) == StatusCode.Good && response!.ResponseHeader.ServiceResult.IsGood();
        return good ? response! : throw new InvalidOperationException($"{request.GetType().Name}: {response?.ResponseHeader.ServiceResult}");
    }

    private void Exchange()
    {
        int length = Sent();
        _peer.Receive(_wire.AsSpan(0, length), HostClock.Now);
        if (_peer.TakeOutput(_spare) is { } answer)
        {
            _spare = answer;
            _spare.Written.CopyTo(_wire);
            _client.Step(_wire.AsSpan(0, _spare.Length), HostClock.Now, out _);
        }
    }

    private int Sent()
    {
        int length = _client.Output.Length;
        _client.Output.CopyTo(_wire);
        _client.ClearOutput();
        return length;
    }
}
