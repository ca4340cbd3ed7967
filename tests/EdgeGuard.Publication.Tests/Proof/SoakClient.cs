using System.Net;
using System.Net.Sockets;
using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.Publication.Hosting;

namespace EdgeGuard.Publication.Tests.Proof;

/// <summary>The project's client engine on a blocking socket, without security; for loads of many clients. The independent client judges elsewhere.</summary>
internal sealed class SoakClient : IDisposable
{
    private readonly Socket _socket = new(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp) { NoDelay = true };
    private readonly byte[] _buffer = new byte[131_072];
    private readonly ClientConnection _connection;
    private NodeId _token;
    private int _filled;
    private uint _handle;

    /// <summary>Connects from an address of loopback and activates an anonymous session.</summary>
    /// <exception cref="SocketException">Nobody listens, or an answer takes longer than the time-out.</exception>
    /// <exception cref="InvalidOperationException">The server refuses or ends the connection.</exception>
    public SoakClient(int port, string from = "127.0.0.1", double sessionTimeoutMs = 10_000, int timeoutMs = 30_000)
    {
        string url = $"opc.tcp://127.0.0.1:{port}";
        _connection = new ClientConnection(new ClientChannelOptions { EndpointUrl = url, Policy = SecurityPolicy.None, Mode = MessageSecurityMode.None, TokenLifetimeMs = 3_600_000 }, HostClock.Now);
        _socket.ReceiveTimeout = _socket.SendTimeout = timeoutMs;
        _socket.Bind(new IPEndPoint(IPAddress.Parse(from), 0));
        try
        {
            _socket.Connect(IPAddress.Loopback, port);
            OpenSession(url, sessionTimeoutMs);
        }
        catch
        {
            Dispose();
            throw;
        }
    }

    /// <summary>A subscription with items of a queue; every change of the value counts.</summary>
    public uint Monitor(double intervalMs, uint queue, params string[] nodes)
    {
        uint id = Ask<CreateSubscriptionResponse>(new CreateSubscriptionRequest { RequestedPublishingInterval = intervalMs, RequestedMaxKeepAliveCount = 10, RequestedLifetimeCount = 100, PublishingEnabled = true }).SubscriptionId;
        CreateMonitoredItemsResponse made = Ask<CreateMonitoredItemsResponse>(new CreateMonitoredItemsRequest
        {
            SubscriptionId = id,
            TimestampsToReturn = TimestampsToReturn.Both,
            ItemsToCreate = [.. nodes.Select((n, i) => new MonitoredItemCreateRequest { ItemToMonitor = new ReadValueId { NodeId = new NodeId(2, n), AttributeId = 13 }, MonitoringMode = MonitoringMode.Reporting, RequestedParameters = new MonitoringParameters { ClientHandle = (uint)i, SamplingInterval = 0, QueueSize = queue, DiscardOldest = true } })],
        });
        Assert.All(made.Results!, static r => Assert.Equal(StatusCode.Good, r.StatusCode));
        return id;
    }

    public void Publish(int count = 1, params SubscriptionAcknowledgement[] acknowledgements)
    {
        for (int i = 0; i < count; i++)
        {
            Post(new PublishRequest { SubscriptionAcknowledgements = acknowledgements });
        }
    }

    /// <summary>Waits for an answer to Publish; its changes, and the next request is on its way.</summary>
    public MonitoredItemNotification[] Take()
    {
        PublishResponse response = Next<PublishResponse>();
        ExtensionObject? data = response.NotificationMessage.NotificationData?.FirstOrDefault();
        Publish(1, data is null ? [] : [new SubscriptionAcknowledgement { SubscriptionId = response.SubscriptionId, SequenceNumber = response.NotificationMessage.SequenceNumber }]);
        return data is not null && data.TryDecode(UaLimits.Default, out DataChangeNotification? changes) == StatusCode.Good ? changes!.MonitoredItems ?? [] : [];
    }

    public DataValue Read(string node) =>
        Ask<ReadResponse>(new ReadRequest { TimestampsToReturn = TimestampsToReturn.Both, NodesToRead = [new ReadValueId { NodeId = new NodeId(2, node), AttributeId = 13 }] }).Results![0];

    public uint ReadUInt32(uint id) => (uint)Ask<ReadResponse>(new ReadRequest { NodesToRead = [new ReadValueId { NodeId = new NodeId(id), AttributeId = 13 }] }).Results![0].Value.AsInteger;

    /// <summary>Ends the session in order; without it the socket just breaks.</summary>
    public void Close() => Post(new CloseSessionRequest { DeleteSubscriptions = true });

    /// <summary>Resets the socket: what the server has on its way meets a connection that is gone.</summary>
    public void Break()
    {
        _socket.LingerState = new LingerOption(enable: true, seconds: 0);
        Dispose();
    }

    public void Dispose()
    {
        _connection.Dispose();
        _socket.Dispose();
    }

    private void OpenSession(string url, double timeoutMs)
    {
        Flush();
        while (_connection.State != ConnectionState.Open)
        {
            Step();
        }

        _token = Ask<CreateSessionResponse>(new CreateSessionRequest { ClientDescription = new ApplicationDescription { ApplicationUri = "urn:pilot-hall:soak", ApplicationType = ApplicationType.Client }, EndpointUrl = url, SessionName = "soak", RequestedSessionTimeout = timeoutMs }).AuthenticationToken;
        Ask<ActivateSessionResponse>(new ActivateSessionRequest());
    }

    private T Ask<T>(IServiceRequest request)
        where T : class, IServiceResponse
    {
        Post(request);
        return Next<T>();
    }

    private T Next<T>()
        where T : class, IServiceResponse
    {
        while (!Step())
        {
        }

        StatusCode status = ServiceMessage.TryReadResponse(_connection.Message, UaLimits.Default, out IServiceResponse? response);
        return response as T ?? throw new InvalidOperationException($"{response?.GetType().Name} {response?.ResponseHeader.ServiceResult} {status} instead of {typeof(T).Name}");
    }

    private void Post(IServiceRequest request)
    {
        request.RequestHeader = new RequestHeader { AuthenticationToken = _token, RequestHandle = ++_handle, Timestamp = HostClock.Now.Utc };
        using var body = new UaWriter();
        ServiceMessage.Write(body, request);
        Assert.Equal(StatusCode.Good, _connection.Send(body.Written, HostClock.Now, out _));
        Flush();
    }

    // True when a message is complete; receives only when nothing more can be taken from what is there.
    private bool Step()
    {
        ConnectionStep step = _connection.Step(_buffer.AsSpan(0, _filled), HostClock.Now, out int consumed);
        _filled -= consumed;
        Buffer.BlockCopy(_buffer, consumed, _buffer, 0, _filled);
        Flush();
        if (step == ConnectionStep.Closed)
        {
            throw new InvalidOperationException($"the connection ended: {_connection.CloseCause}");
        }

        if (step != ConnectionStep.Message && consumed == 0 && _connection.State != ConnectionState.Closed)
        {
            int received = _socket.Receive(_buffer.AsSpan(_filled));
            _filled += received > 0 ? received : throw new InvalidOperationException("the server closed the connection");
        }

        return step == ConnectionStep.Message;
    }

    private void Flush()
    {
        for (ReadOnlySpan<byte> output = _connection.Output; !output.IsEmpty;)
        {
            output = output[_socket.Send(output)..];
        }

        _connection.ClearOutput();
    }
}
