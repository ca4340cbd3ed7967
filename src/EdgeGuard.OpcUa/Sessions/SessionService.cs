using System.Security.Cryptography;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Security;
using EdgeGuard.OpcUa.Server;
using EdgeGuard.OpcUa.Services;

namespace EdgeGuard.OpcUa.Sessions;

/// <summary>
/// CreateSession, ActivateSession and CloseSession (OPC 10000-4, 5.6). A session belongs to the channel it was made on
/// until it is activated on another one; there the certificate must be the same and the user too. All but the proofs of ActivateSession under the server's gate.
/// </summary>
internal sealed class SessionService
{
    /// <summary>Length of nonces of sessions, also without security (OPC 10000-4, 5.6.2: at least 32 bytes).</summary>
    public const int NonceBytes = 32;

    private const int TokenBytes = 32;

    private readonly UaServerOptions _options;
    private readonly EndpointList _endpoints;
    private readonly SessionTable _sessions;
    private readonly DiagnosticNodes _nodes;
    private readonly UserTokenReader _tokens;
    private uint _lastSessionNumber;

    public SessionService(UaServerOptions options, EndpointList endpoints, SessionTable sessions, DiagnosticNodes nodes)
    {
        (_options, _endpoints, _sessions, _nodes) = (options, endpoints, sessions, nodes);
        _tokens = new UserTokenReader(options);
    }

    /// <summary>Makes a session; <paramref name="gaveWay"/> is one that had to end for it.</summary>
    public IServiceResponse Create(UaServerPeer peer, CreateSessionRequest request, ChannelClock now, out UaSession? gaveWay)
    {
        gaveWay = null;
        StatusCode status = CheckCreate(peer, request);
        if (status != StatusCode.Good)
        {
            return Fault.Of(status);
        }

        if (_sessions.CountFrom(peer.Address) >= _options.Limits.SessionsPerAddressMax)
        {
            _options.Log?.Refused($"session from {peer.Remote} refused: {_options.Limits.SessionsPerAddressMax} sessions of its address are in use");
            return Fault.Of(StatusCode.BadTooManySessions);
        }

        UaSession session = Make(peer, request, now);
        if (!_sessions.TryAdd(session, out gaveWay))
        {
            _options.Log?.Refused($"session of {session.ClientUri} refused: {_options.Operations.Sessions} sessions are in use");
            return Fault.Of(StatusCode.BadTooManySessions);
        }

        _nodes.Add(session);
        return new CreateSessionResponse
        {
            SessionId = session.SessionId,
            AuthenticationToken = session.Token,
            RevisedSessionTimeout = session.TimeoutMs,
            ServerNonce = session.ServerNonce,
            ServerCertificate = _options.Channel.Instance?.Der,
            ServerEndpoints = _endpoints.For(request.EndpointUrl, null),
            ServerSignature = SignatureProof.Create(peer.Policy, _options.Channel.Instance, request.ClientCertificate, request.ClientNonce),
            MaxRequestMessageSize = (uint)_options.Channel.Limits.ReceiveMessageBytesMax,
        };
    }

    /// <summary>
    /// Binds the session to the channel and the user to the session. Takes <paramref name="gate"/> itself: signatures and
    /// passwords take their time, and publishing must not wait for them.
    /// </summary>
    public IServiceResponse Activate(UaServerPeer peer, ActivateSessionRequest request, ChannelClock now, Lock gate)
    {
        UaSession? session = _sessions.Find(request.RequestHeader.AuthenticationToken);
        if (session is null)
        {
            return Fault.Of(StatusCode.BadSessionIdInvalid);
        }

        byte[] nonce = session.ServerNonce;
        StatusCode status = CheckChannel(peer, session, request);
        UserIdentity? identity = null;
        if (status == StatusCode.Good)
        {
            status = _tokens.TryRead(peer, session, request, now, out identity);
        }

        lock (gate)
        {
            status = status == StatusCode.Good ? CheckAgain(peer, session, nonce, identity!) : status;
            if (status == StatusCode.Good)
            {
                Bind(peer, session, request, identity!, now);
                return new ActivateSessionResponse { ServerNonce = session.ServerNonce, Results = [], DiagnosticInfos = [] };
            }
        }

        _options.Log?.Refused($"activation of session {session.Name} from {peer.Remote} refused: {status}");
        return Fault.Of(status);
    }

    // What may have changed while nobody held the gate, and that a session which goes over to another channel keeps its
    // user (OPC 10000-4, 5.6.3).
    private static StatusCode CheckAgain(UaServerPeer peer, UaSession session, byte[] nonce, UserIdentity identity)
    {
        if (session.Closed || !ReferenceEquals(nonce, session.ServerNonce))
        {
            return session.Closed ? StatusCode.BadSessionClosed : StatusCode.BadNonceInvalid;
        }

        bool otherUser = session.Activated && !ReferenceEquals(session.Peer, peer) && identity != session.Identity;
        return otherUser ? StatusCode.BadIdentityChangeNotSupported : StatusCode.Good;
    }

    private void Bind(UaServerPeer peer, UaSession session, ActivateSessionRequest request, UserIdentity identity, ChannelClock now)
    {
        session.ServerNonce = RandomNumberGenerator.GetBytes(NonceBytes);
        if (!session.Activated || !ReferenceEquals(session.Peer, peer))
        {
            MoveTo(peer, session, now);
        }

        RememberUser(session, identity);
        (session.Peer, session.Policy, session.Mode, session.Identity, session.Activated) = (peer, peer.Policy, peer.Mode, identity, true);
        session.Caller = new CallerContext { Roles = identity.Roles, UserName = identity.Kind == UserTokenType.Anonymous ? null : identity.Name, SessionId = session.SessionId, SessionName = session.Name };
        session.Subscriptions.ForEach(subscription => subscription.ChangeUser(session));
        session.Locales = request.LocaleIds ?? session.Locales;
        session.Use(now.MonotonicMs);
        _options.Log?.Note($"session {session.Name} of {session.ClientUri} active from {peer.Remote}, {peer.Policy.Name} {peer.Mode}, user {identity.Name}");
    }

    private static void RememberUser(UaSession session, UserIdentity identity)
    {
        const int FormerUsersMax = 8;
        if (session.Activated && session.Identity != identity)
        {
            session.FormerUsers.Enqueue(session.Identity.Name);
            while (session.FormerUsers.Count > FormerUsersMax)
            {
                session.FormerUsers.Dequeue();
            }
        }
    }

    // Publish requests that wait on the connection left behind would be answered where nobody listens.
    private static void MoveTo(UaServerPeer peer, UaSession session, ChannelClock now)
    {
        if (session.Activated)
        {
            session.Peer?.SessionLeft(now.MonotonicMs);
            session.Publishing.Clear();
        }

        peer.SessionActivated();
    }

    private StatusCode CheckCreate(UaServerPeer peer, CreateSessionRequest request)
    {
        if (!peer.Policy.IsSecure)
        {
            return _options.AllowNoneSessions ? StatusCode.Good : StatusCode.BadSecurityModeInsufficient;
        }

        if (request.ClientNonce is not { Length: >= NonceBytes })
        {
            return StatusCode.BadNonceInvalid;
        }

        if (request.ClientCertificate is null || !request.ClientCertificate.AsSpan().StartsWith(peer.Certificate!.Der))
        {
            _options.Log?.Refused($"session from {peer.Remote} refused: its certificate is not that of its channel");
            return StatusCode.BadSecurityChecksFailed;
        }

        CertificateVerdict verdict = CertificateFacts.TryRead(peer.Certificate.Der, out string fault) is { } facts
            ? CertificateRules.CheckApplicationUri(facts, request.ClientDescription.ApplicationUri)
            : CertificateVerdict.Refuse(StatusCode.BadCertificateInvalid, fault);
        if (!verdict.Trusted)
        {
            _options.Log?.Refused($"session from {peer.Remote} refused: {verdict.Cause}");
        }

        return verdict.WireStatus;
    }

    private UaSession Make(UaServerPeer peer, CreateSessionRequest request, ChannelClock now)
    {
        ServerLimits limits = _options.Limits;
        double asked = request.RequestedSessionTimeout;
        string name = request.SessionName is { Length: > 0 } given ? given : $"session {_lastSessionNumber + 1}";
        var session = new UaSession
        {
            SessionId = new NodeId(1, ++_lastSessionNumber),
            Token = new NodeId(0, RandomNumberGenerator.GetBytes(TokenBytes)),
            Name = name.Length > limits.SessionNameCharactersMax ? name[..limits.SessionNameCharactersMax] : name,
            ClientUri = request.ClientDescription.ApplicationUri ?? "",
            Client = Described(request.ClientDescription),
            Asked = (Bounded(request.ServerUri), Bounded(request.EndpointUrl)),
            ClientCertificate = peer.Certificate is { } certificate ? certificate.Der.ToArray() : [],
            TimeoutMs = asked > 0 ? Math.Clamp(asked, limits.SessionTimeoutMsMin, limits.SessionTimeoutMsMax) : limits.SessionTimeoutMsMax,
            CreatedMs = now.MonotonicMs,
            CreatedUtc = now.Utc,
            ResponseBytesMax = request.MaxResponseMessageSize,
            ServerNonce = RandomNumberGenerator.GetBytes(NonceBytes),
            Browsing = new BrowsePointStore(_options.Operations.BrowseContinuationPoints),
            Address = peer.Address,
            Peer = peer,
            Policy = peer.Policy,
            Mode = peer.Mode,
        };
        session.Use(now.MonotonicMs);
        return session;
    }

    // Kept as long as the session: a client must not make the server keep megabytes of its texts.
    private static ApplicationDescription Described(ApplicationDescription client) => new()
    {
        ApplicationUri = Bounded(client.ApplicationUri),
        ProductUri = Bounded(client.ProductUri),
        ApplicationName = new LocalizedText(Bounded(client.ApplicationName.Text)),
        ApplicationType = client.ApplicationType,
    };

    private static string Bounded(string? text)
    {
        const int CharactersMax = 256;
        return text is null ? "" : text.Length > CharactersMax ? text[..CharactersMax] : text;
    }

    private StatusCode CheckChannel(UaServerPeer peer, UaSession session, ActivateSessionRequest request)
    {
        bool sameChannel = ReferenceEquals(session.Peer, peer);
        if (!sameChannel && !session.Activated)
        {
            return StatusCode.BadSecureChannelIdInvalid;
        }

        if (!sameChannel && (peer.Policy != session.Policy || !session.ClientCertificate.AsSpan().SequenceEqual(peer.Certificate is { } certificate ? certificate.Der : default)))
        {
            return StatusCode.BadSecurityChecksFailed;
        }

        return peer.Policy.IsSecure
            ? SignatureProof.Verify(peer.Policy, peer.Certificate, _options.Channel.Instance!.Der, session.ServerNonce, request.ClientSignature)
            : StatusCode.Good;
    }
}
