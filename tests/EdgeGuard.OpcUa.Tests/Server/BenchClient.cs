using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Server;
using EdgeGuard.OpcUa.Tests.SecureChannel;

namespace EdgeGuard.OpcUa.Tests.Server;

/// <summary>A client in memory: asks, and keeps what comes unasked (answers to Publish).</summary>
internal sealed class BenchClient : IDisposable
{
    private readonly ServerBench _bench;
    private readonly ClientConnection _connection;
    private readonly UaServerPeer _peer;
    private readonly Dictionary<uint, IServiceResponse> _answers = [];
    private UaWriter _spare;
    private uint _lastHandle;

    public BenchClient(ServerBench bench, SecurityPolicy policy, MessageSecurityMode mode, string address = "10.0.0.7")
    {
        _bench = bench;
        _peer = bench.Server.Accept(address + ":50000", address, bench.Now) ?? throw new InvalidOperationException("the server took no connection");
        _spare = _peer.CreateOutput();
        _connection = new ClientConnection(
            new ClientChannelOptions
            {
                EndpointUrl = "opc.tcp://alias:14840",
                Policy = policy,
                Mode = mode,
                Instance = policy.IsSecure ? TestParties.Client : null,
                ServerCertificate = policy.IsSecure ? TestParties.Server.Der : null,
                TokenLifetimeMs = 3_600_000,
            },
            bench.Now);
    }

    public NodeId Token { get; set; }

    public CreateSessionResponse Session { get; private set; } = new();

    public byte[]? ServerNonce { get; set; }

    public string ApplicationUri { get; init; } = "urn:pilot-hall:EdgeGuard:client";

    public byte[] ClientNonce { get; } = [.. Enumerable.Range(1, 32).Select(static i => (byte)i)];

    public ClientConnection Connection => _connection;

    public UaServerPeer Peer => _peer;

    /// <summary>Answers to Publish in the order in which they came, good ones and faults.</summary>
    public Queue<IServiceResponse> Published { get; } = new();

    public void Pump()
    {
        for (bool moved = true; moved;)
        {
            byte[] sent = _connection.Output.ToArray();
            _connection.ClearOutput();
            Feed(sent);
            moved = Collect() || _connection.Output.Length > 0;
        }
    }

    public uint Post(IServiceRequest request)
    {
        request.RequestHeader = new RequestHeader { AuthenticationToken = Token, RequestHandle = ++_lastHandle, Timestamp = _bench.Now.Utc, TimeoutHint = request.RequestHeader.TimeoutHint };
        using var body = new UaWriter();
        ServiceMessage.Write(body, request);
        Assert.Equal(StatusCode.Good, _connection.Send(body.Written, _bench.Now, out uint id));
        return id;
    }

    public IServiceResponse Ask(IServiceRequest request)
    {
        uint id = Post(request);
        uint handle = _lastHandle;
        Pump();
        Assert.True(_answers.Remove(id, out IServiceResponse? answer), $"no answer to {request.GetType().Name}: {_connection.CloseCause ?? _peer.CloseCause}");
        Assert.Equal(handle, answer.ResponseHeader.RequestHandle);
        return answer;
    }

    /// <summary>Sends a body as it is; null when there is no answer yet, as to Publish.</summary>
    public IServiceResponse? AskRaw(ReadOnlySpan<byte> body)
    {
        Assert.Equal(StatusCode.Good, _connection.Send(body, _bench.Now, out uint id));
        Pump();
        return _answers.Remove(id, out IServiceResponse? answer) ? answer : null;
    }

    public T Ask<T>(IServiceRequest request)
        where T : class, IServiceResponse
    {
        IServiceResponse answer = Ask(request);
        Assert.True(answer is T, $"{answer.GetType().Name} {answer.ResponseHeader.ServiceResult} instead of {typeof(T).Name}");
        return (T)answer;
    }

    public StatusCode AskFault(IServiceRequest request) => Ask<ServiceFault>(request).ResponseHeader.ServiceResult;

    public CreateSessionResponse CreateSession(double timeoutMs = 60_000, uint responseBytesMax = 0)
    {
        Session = Ask<CreateSessionResponse>(SessionRequest(timeoutMs, responseBytesMax));
        (Token, ServerNonce) = (Session.AuthenticationToken, Session.ServerNonce);
        return Session;
    }

    public CreateSessionRequest SessionRequest(double timeoutMs = 60_000, uint responseBytesMax = 0) => new()
    {
        ClientDescription = new ApplicationDescription { ApplicationUri = ApplicationUri, ApplicationType = ApplicationType.Client },
        EndpointUrl = "opc.tcp://alias:14840",
        SessionName = "bench",
        ClientNonce = ClientNonce,
        ClientCertificate = _connection.Policy.IsSecure ? TestParties.Client.Der : null,
        RequestedSessionTimeout = timeoutMs,
        MaxResponseMessageSize = responseBytesMax,
    };

    public IServiceResponse TryActivate(IUaStructure? identity = null, SignatureData? userProof = null)
    {
        IServiceResponse answer = Ask(new ActivateSessionRequest
        {
            ClientSignature = SignatureProof.Create(_connection.Policy, TestParties.Client, TestParties.Server.Der, ServerNonce),
            UserIdentityToken = identity is null ? null : new ExtensionObject(identity),
            UserTokenSignature = userProof ?? new SignatureData(),
        });
        ServerNonce = (answer as ActivateSessionResponse)?.ServerNonce ?? ServerNonce;
        return answer;
    }

    public void Activate(IUaStructure? identity = null)
    {
        IServiceResponse answer = TryActivate(identity);
        Assert.Equal(StatusCode.Good, answer.ResponseHeader.ServiceResult);
    }

    public DataValue Read(NodeId node, AttributeId attribute = AttributeId.Value) =>
        Ask<ReadResponse>(new ReadRequest { TimestampsToReturn = TimestampsToReturn.Both, NodesToRead = [new ReadValueId { NodeId = node, AttributeId = (uint)attribute }] }).Results![0];

    public CreateSubscriptionResponse Subscribe(double intervalMs = 100, uint keepAlives = 10, uint lifetime = 100, uint notificationsMax = 0, byte priority = 0, bool enabled = true) =>
        Ask<CreateSubscriptionResponse>(new CreateSubscriptionRequest
        {
            RequestedPublishingInterval = intervalMs,
            RequestedMaxKeepAliveCount = keepAlives,
            RequestedLifetimeCount = lifetime,
            MaxNotificationsPerPublish = notificationsMax,
            Priority = priority,
            PublishingEnabled = enabled,
        });

    public MonitoredItemCreateResult Monitor(uint subscription, NodeId node, double samplingMs = 100, uint queue = 1, bool discardOldest = true, DataChangeFilter? filter = null, uint handle = 1, MonitoringMode mode = MonitoringMode.Reporting) =>
        Ask<CreateMonitoredItemsResponse>(new CreateMonitoredItemsRequest
        {
            SubscriptionId = subscription,
            TimestampsToReturn = TimestampsToReturn.Both,
            ItemsToCreate =
            [
                new MonitoredItemCreateRequest
                {
                    ItemToMonitor = new ReadValueId { NodeId = node, AttributeId = (uint)AttributeId.Value },
                    MonitoringMode = mode,
                    RequestedParameters = new MonitoringParameters { ClientHandle = handle, SamplingInterval = samplingMs, QueueSize = queue, DiscardOldest = discardOldest, Filter = filter is null ? null : new ExtensionObject(filter) },
                },
            ],
        }).Results![0];

    public void Publish(int count = 1, uint timeoutHintMs = 0, params SubscriptionAcknowledgement[] acknowledgements)
    {
        for (int i = 0; i < count; i++)
        {
            Post(new PublishRequest { RequestHeader = new RequestHeader { TimeoutHint = timeoutHintMs }, SubscriptionAcknowledgements = i == 0 ? acknowledgements : [] });
        }

        Pump();
    }

    /// <summary>The next answer to Publish that is no keep-alive nor fault.</summary>
    public MonitoredItemNotification[] NextData()
    {
        while (Published.TryDequeue(out IServiceResponse? answer))
        {
            if (answer is PublishResponse publish && Data(publish) is { Length: > 0 } data)
            {
                return data;
            }
        }

        return [];
    }

    public static MonitoredItemNotification[] Data(PublishResponse publish)
    {
        ExtensionObject? notification = publish.NotificationMessage.NotificationData?.FirstOrDefault();
        return notification is not null && notification.TryDecode(UaLimits.Default, out DataChangeNotification? data) == StatusCode.Good ? data!.MonitoredItems! : [];
    }

    public static StatusCode? StatusChange(PublishResponse publish)
    {
        ExtensionObject? notification = publish.NotificationMessage.NotificationData?.FirstOrDefault();
        return notification is not null && notification.TryDecode(UaLimits.Default, out StatusChangeNotification? change) == StatusCode.Good ? change!.Status : null;
    }

    /// <summary>The socket breaks.</summary>
    public void Drop() => _peer.Closed(_bench.Now);

    public void Dispose() => _connection.Dispose();

    private void Feed(byte[] bytes)
    {
        if (bytes.Length > 0 && !_peer.IsClosed)
        {
            _peer.Receive(bytes, _bench.Now);
        }
    }

    private bool Collect()
    {
        UaWriter? output = _peer.TakeOutput(_spare);
        if (output is null)
        {
            return false;
        }

        byte[] bytes = output.Written.ToArray();
        _spare = output;
        for (int at = 0; at < bytes.Length;)
        {
            ConnectionStep step = _connection.Step(bytes.AsSpan(at), _bench.Now, out int consumed);
            at += consumed;
            if (step == ConnectionStep.Message)
            {
                Keep(_connection.RequestId, _connection.Message);
            }
            else if (consumed == 0 || step == ConnectionStep.Closed)
            {
                break;
            }
        }

        return true;
    }

    private void Keep(uint requestId, ReadOnlySpan<byte> body)
    {
        Assert.Equal(StatusCode.Good, ServiceMessage.TryReadResponse(body, UaLimits.Default, out IServiceResponse? response));
        _answers[requestId] = response!;
        if (response is PublishResponse or ServiceFault)
        {
            Published.Enqueue(response!);
        }
    }
}
