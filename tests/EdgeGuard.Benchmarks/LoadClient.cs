using System.Net;
using System.Net.Sockets;
using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.Publication.Hosting;

namespace EdgeGuard.Benchmarks;

/// <summary>One connection of the load generator: the client engine on a blocking socket, one thread.</summary>
internal sealed class LoadClient : IDisposable
{
    private const int BufferBytes = 1_048_576;
    private const int TimeoutMs = 20_000;
    private static readonly UaLimits Decoding = new() { ByteStringBytesMax = 16_777_216, DecodedBytesMax = 268_435_456 };

    private readonly Socket _socket = new(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp) { NoDelay = true };
    private readonly byte[] _buffer = new byte[BufferBytes];
    private readonly LoadTarget _target;
    private readonly ApplicationInstance? _own;
    private readonly ClientConnection _connection;
    private int _start;
    private int _end;
    private uint _lastHandle;

    /// <summary>Connects and opens the channel; plain when <paramref name="own"/> is null, else Basic256Sha256, SignAndEncrypt.</summary>
    public LoadClient(LoadTarget target, ApplicationInstance? own)
    {
        (_target, _own) = (target, own);
        _socket.ReceiveTimeout = _socket.SendTimeout = TimeoutMs;
        _socket.Connect(new IPEndPoint(IPAddress.Loopback, target.Port));
        _connection = new ClientConnection(
            new ClientChannelOptions
            {
                EndpointUrl = target.Url,
                Policy = own is null ? SecurityPolicy.None : SecurityPolicy.Basic256Sha256,
                Mode = own is null ? MessageSecurityMode.None : MessageSecurityMode.SignAndEncrypt,
                Instance = own,
                ServerCertificate = own is null ? null : target.Certificate,
                TokenLifetimeMs = 3_600_000,
            },
            HostClock.Now);
        Flush();
        while (_connection.State != ConnectionState.Open)
        {
            Fill();
            Advance();
        }
    }

    /// <summary>Token of the session, for requests that are encoded beforehand.</summary>
    public NodeId Token { get; private set; }

    /// <summary>Asks a request outside the measurement.</summary>
    public T Ask<T>(IServiceRequest request)
        where T : class, IServiceResponse
    {
        Post(request);
        StatusCode status = ServiceMessage.TryReadResponse(Receive(), Decoding, out IServiceResponse? response);
        bool good = response is T && response.ResponseHeader.ServiceResult.IsGood();
        return good ? (T)response! : throw new InvalidOperationException($"{_target.Name}: {request.GetType().Name} was answered by {response?.GetType().Name ?? status.ToString()} {response?.ResponseHeader.ServiceResult}");
    }

    /// <summary>Sends a request without waiting for its answer.</summary>
    public void Post(IServiceRequest request)
    {
        request.RequestHeader = new RequestHeader { AuthenticationToken = Token, RequestHandle = ++_lastHandle, Timestamp = HostClock.Now.Utc };
        using var body = new UaWriter();
        ServiceMessage.Write(body, request);
        Send(body.Written);
    }

    /// <summary>Sends an encoded body.</summary>
    public void Send(ReadOnlySpan<byte> body)
    {
        StatusCode status = _connection.Send(body, HostClock.Now, out _);
        if (status != StatusCode.Good)
        {
            throw new InvalidOperationException($"{_target.Name}: the request could not be sent: {status} {_connection.CloseCause}");
        }

        Flush();
    }

    /// <summary>Waits for a message; its body is valid until the next call.</summary>
    public ReadOnlySpan<byte> Receive()
    {
        while (!Advance())
        {
            Fill();
        }

        return _connection.Message;
    }

    /// <summary>Makes and activates a session without a user.</summary>
    public void OpenSession()
    {
        CreateSessionResponse created = Ask<CreateSessionResponse>(new CreateSessionRequest
        {
            ClientDescription = new ApplicationDescription { ApplicationUri = BenchRun.ClientUri, ApplicationType = ApplicationType.Client },
            EndpointUrl = _target.Url,
            SessionName = "benchmark",
            ClientNonce = new byte[32],
            ClientCertificate = _own?.Der,
            RequestedSessionTimeout = 3_600_000,
        });
        Token = created.AuthenticationToken;
        Ask<ActivateSessionResponse>(new ActivateSessionRequest
        {
            ClientSignature = SignatureProof.Create(_connection.Policy, _own, created.ServerCertificate, created.ServerNonce),
            UserIdentityToken = new ExtensionObject(new AnonymousIdentityToken { PolicyId = AnonymousPolicy(created) }),
        });
    }

    public void Dispose()
    {
        if (_connection.State == ConnectionState.Open)
        {
            _connection.CloseChannel(HostClock.Now);
            Flush();
        }

        _connection.Dispose();
        _socket.Dispose();
    }

    private string? AnonymousPolicy(CreateSessionResponse created)
    {
        EndpointDescription? used = created.ServerEndpoints?.FirstOrDefault(endpoint => endpoint.SecurityMode == _connection.Mode && endpoint.SecurityPolicyUri == _connection.Policy.Uri);
        return used?.UserIdentityTokens?.FirstOrDefault(static token => token.TokenType == UserTokenType.Anonymous)?.PolicyId;
    }

    private void Flush()
    {
        ReadOnlySpan<byte> output = _connection.Output;
        while (!output.IsEmpty)
        {
            output = output[_socket.Send(output)..];
        }

        _connection.ClearOutput();
    }

    // Whether a message is complete in what was received.
    private bool Advance()
    {
        ConnectionStep step = _connection.Step(_buffer.AsSpan(_start.._end), HostClock.Now, out int consumed);
        _start += consumed;
        if (step == ConnectionStep.Closed)
        {
            throw new InvalidOperationException($"{_target.Name}: the connection ended: {_connection.CloseCause}");
        }

        Flush();
        return step == ConnectionStep.Message;
    }

    private void Fill()
    {
        _buffer.AsSpan(_start.._end).CopyTo(_buffer);
        (_start, _end) = (0, _end - _start);
        int received = _socket.Receive(_buffer.AsSpan(_end));
        _end += received > 0 ? received : throw new InvalidOperationException($"{_target.Name} closed the connection");
    }
}
