using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Services;
using EdgeGuard.OpcUa.Sessions;
using EdgeGuard.OpcUa.Subscriptions;

namespace EdgeGuard.OpcUa.Server;

/// <summary>
/// Takes one decoded request to its service and sends the answer. Discovery needs no session and no security; everything
/// else needs an activated session that is bound to this very channel (OPC 10000-4, 5.6). Whatever goes wrong is a
/// ServiceFault, never a closed socket.
/// </summary>
internal sealed class RequestDispatcher
{
    private readonly UaServer _server;
    private readonly SubscriptionEngine _subscriptions;
    private readonly EndpointList _endpoints;
    private readonly SessionService _sessions;
    private readonly UaLimits _decoding;

    public RequestDispatcher(UaServer server, SubscriptionEngine subscriptions)
    {
        (_server, _subscriptions) = (server, subscriptions);
        _endpoints = new EndpointList(server.Options);
        _sessions = new SessionService(server.Options, _endpoints, server.Sessions, server.Nodes);
        OperationLimits operations = server.Options.Operations;
        _decoding = new UaLimits { ArrayLengthMax = (int)operations.ArrayLength, StringBytesMax = (int)operations.StringLengthBytes, ByteStringBytesMax = (int)operations.ByteStringLengthBytes, KnownTexts = server.Space.KnownTexts() };
    }

    public void Handle(UaServerPeer peer, ReadOnlySpan<byte> body, uint requestId, ChannelClock now)
    {
        if (!TryReadAgain(peer, body, requestId, now))
        {
            HandleDecoded(peer, body, requestId, now);
        }

        peer.ForgetRead();
    }

    // A Read of the list that this connection read before; whatever is not plain goes the long way.
    private bool TryReadAgain(UaServerPeer peer, ReadOnlySpan<byte> body, uint requestId, ChannelClock now)
    {
        ReadRequest request = peer.SpareRead;
        if (!peer.Plan.IsSet || !ServiceMessage.TryReadHead(body, _decoding, request, out int listAt) || !peer.Plan.IsFor(body[listAt..], _server.Space)
            || TryFindSession(peer, request, now, out UaSession? session) != StatusCode.Good)
        {
            return false;
        }

        var context = new ServiceContext(_server.Space, session!.Caller, now.Utc, _server.Options.Operations);
        UaWriter writer = peer.Answer;
        ServiceFault? fault = SendRead(peer, session, ReadService.Respond(context, request, peer.Plan.Nodes, writer), writer, requestId, now);
        session.Tally.Count(request, fault?.ResponseHeader.ServiceResult ?? StatusCode.Good);
        if (fault is not null)
        {
            Send(peer, requestId, request.RequestHeader.RequestHandle, fault, now);
        }

        return true;
    }

    private void HandleDecoded(UaServerPeer peer, ReadOnlySpan<byte> body, uint requestId, ChannelClock now)
    {
        StatusCode status = ServiceMessage.TryReadRequest(body, _decoding, peer.SpareRead, out IServiceRequest? request, out RequestHeader header, out int listAt);
        if (status != StatusCode.Good)
        {
            Send(peer, requestId, header.RequestHandle, Fault.Of(status), now);
            return;
        }

        if (Answer(peer, request!, requestId, now) is { } response)
        {
            Send(peer, requestId, header.RequestHandle, response, now);
        }
        else if (request is ReadRequest { NodesToRead: { } nodes })
        {
            peer.Plan.Note(body[listAt..], nodes, _server.Space);
        }
    }

    // Null when the answer comes later (Publish) or was sent already.
    private IServiceResponse? Answer(UaServerPeer peer, IServiceRequest request, uint requestId, ChannelClock now)
    {
        switch (request)
        {
            case GetEndpointsRequest r:
                return new GetEndpointsResponse { Endpoints = _endpoints.For(r.EndpointUrl, r.ProfileUris) };
            case FindServersRequest r:
                return new FindServersResponse { Servers = Servers(r) };
            case CreateSessionRequest r:
                return Create(peer, r, now);
            case ActivateSessionRequest r:
                return Activate(peer, r, now);
            case OpenSecureChannelRequest or CloseSecureChannelRequest:
                return Fault.Of(StatusCode.BadServiceUnsupported);
            default:
                StatusCode status = TryFindSession(peer, request, now, out UaSession? session);
                return status == StatusCode.Good ? AnswerCounted(peer, session!, request, requestId, now) : Fault.Of(status);
        }
    }

    // Publish is answered later or was answered already, and Read too; both without a fault of the service.
    private IServiceResponse? AnswerCounted(UaServerPeer peer, UaSession session, IServiceRequest request, uint requestId, ChannelClock now)
    {
        IServiceResponse? response = AnswerInSession(peer, session, request, requestId, now);
        session.Tally.Count(request, response?.ResponseHeader.ServiceResult ?? StatusCode.Good);
        return response;
    }

    private IServiceResponse? AnswerInSession(UaServerPeer peer, UaSession session, IServiceRequest request, uint requestId, ChannelClock now)
    {
        var context = new ServiceContext(_server.Space, session.Caller, now.Utc, _server.Options.Operations);
        switch (request)
        {
            case ReadRequest r:
                return Read(peer, session, context, r, requestId, now);
            case WriteRequest r:
                return WriteService.Respond(context, r);
            case BrowseRequest or BrowseNextRequest:
                // Two requests of a session can meet only while it goes over to another connection.
                lock (session.Browsing)
                {
                    return request is BrowseRequest browse ? BrowseService.Browse(context, session.Browsing, browse) : BrowseService.BrowseNext(context, session.Browsing, (BrowseNextRequest)request);
                }

            case TranslateBrowsePathsToNodeIdsRequest r:
                return TranslateService.Respond(context, r);
            case RegisterNodesRequest r:
                return RegisterService.Register(context, r);
            case UnregisterNodesRequest r:
                return RegisterService.Unregister(context, r);
            case CallRequest r:
                return CallService.Call(context, r);
            case HistoryReadRequest:
                return Fault.Of(StatusCode.BadServiceUnsupported);
            default:
                lock (_server.Gate)
                {
                    return session.Closed ? Fault.Of(StatusCode.BadSessionClosed) : AnswerUnderGate(peer, session, request, requestId, now);
                }
        }
    }

    // The one service that is called thousands of times a second writes its answer straight into the buffer.
    private ServiceFault? Read(UaServerPeer peer, UaSession session, in ServiceContext context, ReadRequest request, uint requestId, ChannelClock now)
    {
        UaWriter writer = peer.Answer;
        return SendRead(peer, session, ReadService.Respond(context, request, writer), writer, requestId, now);
    }

    private ServiceFault? SendRead(UaServerPeer peer, UaSession session, StatusCode status, UaWriter writer, uint requestId, ChannelClock now)
    {
        if (status == StatusCode.Good && session.ResponseBytesMax > 0 && writer.Length > session.ResponseBytesMax)
        {
            status = StatusCode.BadResponseTooLarge;
        }

        if (status == StatusCode.Good)
        {
            status = peer.Send(requestId, writer.Written, now);
        }

        if (status is not (StatusCode.Good or StatusCode.BadSecureChannelClosed))
        {
            return Fault.Of(status);
        }

        _server.Counters.Request(StatusCode.Good);
        return null;
    }

    private IServiceResponse? AnswerUnderGate(UaServerPeer peer, UaSession session, IServiceRequest request, uint requestId, ChannelClock now)
    {
        switch (request)
        {
            case CloseSessionRequest r:
                _server.EndSession(session, r.DeleteSubscriptions, "closed by its client", now);
                return new CloseSessionResponse();
            case CancelRequest r:
                return new CancelResponse { CancelCount = _subscriptions.Cancel(session, r.RequestHandle, now) };
            case PublishRequest r:
                return _subscriptions.Publish(peer, session, r, requestId, now);
            case TransferSubscriptionsRequest r:
                return _subscriptions.Transfer(session, r, now);
            default:
                return _subscriptions.Answer(session, request, now);
        }
    }

    private IServiceResponse Create(UaServerPeer peer, CreateSessionRequest request, ChannelClock now)
    {
        lock (_server.Gate)
        {
            IServiceResponse response = _sessions.Create(peer, request, now, out UaSession? gaveWay);
            if (gaveWay is not null)
            {
                _server.Counters.SessionAborted();
                _server.EndSession(gaveWay, deleteSubscriptions: true, "never activated, gave way to another", now);
            }

            if (response is ServiceFault)
            {
                _server.Counters.SessionRejected(response.ResponseHeader.ServiceResult);
            }
            else
            {
                _server.Counters.SessionMade();
            }

            return response;
        }
    }

    private IServiceResponse Activate(UaServerPeer peer, ActivateSessionRequest request, ChannelClock now)
    {
        IServiceResponse response = _sessions.Activate(peer, request, now, _server.Gate);
        if (response is ServiceFault)
        {
            _server.Counters.SessionRejected(response.ResponseHeader.ServiceResult);
        }

        return response;
    }

    private StatusCode TryFindSession(UaServerPeer peer, IServiceRequest request, ChannelClock now, out UaSession? session)
    {
        NodeId token = request.RequestHeader.AuthenticationToken;
        session = peer.LastSession is { Closed: false } last && last.Token == token ? last : _server.Sessions.Find(token);
        if (session is null)
        {
            return StatusCode.BadSessionIdInvalid;
        }

        if (!ReferenceEquals(session.Peer, peer))
        {
            return StatusCode.BadSecureChannelIdInvalid;
        }

        if (!session.Activated && request is not CloseSessionRequest)
        {
            return StatusCode.BadSessionNotActivated;
        }

        session.Use(now.MonotonicMs);
        peer.LastSession = session;
        return StatusCode.Good;
    }

    private ApplicationDescription[] Servers(FindServersRequest request)
    {
        bool wanted = request.ServerUris is not { Length: > 0 } uris || uris.Contains(_server.Options.ApplicationUri, StringComparer.Ordinal);
        return wanted ? [_endpoints.Describe(request.EndpointUrl)] : [];
    }

    private void Send(UaServerPeer peer, uint requestId, uint handle, IServiceResponse response, ChannelClock now)
    {
        StatusCode status = TrySend(peer, requestId, handle, response, now);
        if (status == StatusCode.BadResponseTooLarge)
        {
            response = Fault.Of(status);
            TrySend(peer, requestId, handle, response, now);
        }

        _server.Counters.Request(response.ResponseHeader.ServiceResult);
    }

    private static StatusCode TrySend(UaServerPeer peer, uint requestId, uint handle, IServiceResponse response, ChannelClock now)
    {
        response.ResponseHeader.RequestHandle = handle;
        response.ResponseHeader.Timestamp = now.Utc;
        response.ResponseHeader.StringTable ??= [];
        UaWriter writer = peer.Answer;
        ServiceMessage.Write(writer, response);
        if (writer.Overflowed || (peer.LastSession is { ResponseBytesMax: > 0 } session && writer.Length > session.ResponseBytesMax))
        {
            return StatusCode.BadResponseTooLarge;
        }

        return peer.Send(requestId, writer.Written, now);
    }
}
