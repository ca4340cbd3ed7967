using System.Buffers;
using System.Security.Cryptography;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.Transport;

namespace EdgeGuard.OpcUa.SecureChannel;

/// <summary>
/// Server side of a connection: HEL → ACK, OPN → token, then messages. What is cheap is checked before what is dear: the
/// thumbprint and the judge's verdict come before any operation with the private key. On the wire every refusal on
/// grounds of security looks the same (OPC 10000-4, 6.1.3); <see cref="ChannelConnection.CloseCause"/> has the plain cause.
/// </summary>
public sealed class ServerConnection : ChannelConnection
{
    private readonly ServerChannelOptions _options;
    private readonly ChannelIds _ids;
    private uint _lastTokenId;

    /// <summary>A connection that was just accepted.</summary>
    public ServerConnection(ServerChannelOptions options, ChannelIds ids, ChannelClock now)
        : base(options, now)
    {
        (_options, _ids) = (options, ids);
    }

    /// <summary>URL the client dialled, from HEL.</summary>
    public string? EndpointUrl { get; private set; }

    private protected override StatusCode TooLarge => StatusCode.BadResponseTooLarge;

    private protected override ConnectionStep Take(ChunkHeader header, Span<byte> chunk, ChannelClock now)
    {
        switch (header.Type)
        {
            case UaTcpMessageType.Hello when State == ConnectionState.Handshake:
                TakeHello(chunk[ChunkHeader.HeaderBytes..]);
                return ConnectionStep.NeedMore;
            case UaTcpMessageType.OpenChannel when State is ConnectionState.Opening or ConnectionState.Open:
                TakeOpen(chunk, now);
                return ConnectionStep.NeedMore;
            case UaTcpMessageType.Message or UaTcpMessageType.CloseChannel:
                return TakeSymmetric(header, chunk, now);
            default:
                Fail(StatusCode.BadTcpMessageTypeInvalid, $"{header.Type} is not expected while {State}");
                return ConnectionStep.Closed;
        }
    }

    private protected override ChannelToken? FindToken(uint tokenId) =>
        Sending?.TokenId == tokenId ? Sending : Other?.TokenId == tokenId ? Other : null;

    // The first message under the new token ends the old one (contract of OpenSecureChannel, OPC 10000-4).
    private protected override void TokenUsed(ChannelToken token)
    {
        if (ReferenceEquals(token, Other))
        {
            Sending?.Dispose();
            (Sending, Other) = (Other, null);
        }
    }

    private void TakeHello(ReadOnlySpan<byte> body)
    {
        StatusCode status = UaTcpCodec.TryReadHello(body, out HelloMessage hello);
        if (status != StatusCode.Good)
        {
            Fail(status, "HEL is malformed or its URL longer than 4096 bytes");
            return;
        }

        if (!Limits.TryAgree(hello, out TransportLimits agreed))
        {
            Fail(StatusCode.BadConnectionRejected, $"the client's buffers ({hello.ReceiveBufferBytes} and {hello.SendBufferBytes} bytes) are below the least size of {TransportLimits.ChunkBytesMin}");
            return;
        }

        (Limits, EndpointUrl, State) = (agreed, hello.EndpointUrl, ConnectionState.Opening);
        LimitMessages();
        UaTcpCodec.WriteAcknowledge(Writer, agreed.ToAcknowledge());
    }

    private void TakeOpen(ReadOnlySpan<byte> chunk, ChannelClock now)
    {
        if (AsymmetricHeader.TryRead(chunk, out AsymmetricHeader header) != StatusCode.Good)
        {
            Fail(StatusCode.BadSecurityChecksFailed, "the security header of OPN is malformed");
            return;
        }

        SecurityPolicy? policy = SecurityPolicy.Find(header.PolicyUri);
        if (policy is null || !_options.Policies.Contains(policy) || (policy.IsSecure && _options.Instance is null))
        {
            Fail(StatusCode.BadSecurityPolicyRejected, $"security policy {header.PolicyUri} is not offered");
            return;
        }

        if (State == ConnectionState.Open && (policy != Policy || header.ChannelId != ChannelId))
        {
            Fail(StatusCode.BadSecurityChecksFailed, "a renewal names another channel or policy");
            return;
        }

        if (policy.IsSecure && !AdmitPeer(header, policy))
        {
            return;
        }

        byte[] scratch = ArrayPool<byte>.Shared.Rent(chunk.Length);
        OpenVerified(chunk, header.ClearBytes, policy, scratch, now);
        CryptographicOperations.ZeroMemory(scratch.AsSpan(0, chunk.Length));
        ArrayPool<byte>.Shared.Return(scratch);
    }

    private bool AdmitPeer(in AsymmetricHeader header, SecurityPolicy policy)
    {
        if (!CryptographicOperations.FixedTimeEquals(header.ReceiverThumbprint, _options.Instance!.Thumbprint))
        {
            Fail(StatusCode.BadSecurityChecksFailed, "the client encrypted for another certificate than this server's: it holds an old or a foreign one");
            return false;
        }

        if (Peer is not null && !header.SenderCertificate.SequenceEqual(Peer.Chain))
        {
            Fail(StatusCode.BadSecurityChecksFailed, "a renewal comes with another certificate than the channel was opened with");
            return false;
        }

        CertificateVerdict verdict = default;
        Peer ??= PeerCertificate.TryLoad(header.SenderCertificate, policy, out verdict);
        if (Peer is not null)
        {
            verdict = _options.Judge?.Judge(Peer) ?? CertificateVerdict.Refuse(StatusCode.BadCertificateUntrusted, "no judge of certificates is configured");
        }
        else
        {
            _options.Judge?.Refused(header.SenderCertificate, verdict);
        }

        if (!verdict.Trusted)
        {
            Fail(verdict.WireStatus, $"certificate of the client refused ({verdict.Status}): {verdict.Cause}");
        }

        return verdict.Trusted;
    }

    private void OpenVerified(ReadOnlySpan<byte> chunk, int clearBytes, SecurityPolicy policy, Span<byte> scratch, ChannelClock now)
    {
        StatusCode status = AsymmetricChunkCodec.TryOpen(chunk, clearBytes, policy, _options.Instance, Peer, scratch, out SequenceHeader sequence, out ReadOnlySpan<byte> body);
        if (status != StatusCode.Good)
        {
            Fail(status, "OPN does not decrypt, or its signature is not valid");
            return;
        }

        if (!AcceptSequence(sequence.SequenceNumber))
        {
            return;
        }

        status = ServiceMessage.TryReadRequest(body, UaLimits.Default, out IServiceRequest? request, out RequestHeader header);
        if (status == StatusCode.Good && request is OpenSecureChannelRequest open)
        {
            status = Check(open, policy);
            if (status == StatusCode.Good)
            {
                Grant(open, policy, sequence.RequestId, now);
                return;
            }
        }

        Refuse(status == StatusCode.Good ? StatusCode.BadServiceUnsupported : status, policy, header, sequence.RequestId, now);
    }

    private StatusCode Check(OpenSecureChannelRequest open, SecurityPolicy policy)
    {
        bool renewal = State == ConnectionState.Open;
        if (open.RequestType != (renewal ? SecurityTokenRequestType.Renew : SecurityTokenRequestType.Issue))
        {
            return StatusCode.BadRequestTypeInvalid;
        }

        bool modeFits = policy.IsSecure ? open.SecurityMode is MessageSecurityMode.Sign or MessageSecurityMode.SignAndEncrypt : open.SecurityMode == MessageSecurityMode.None;
        if (!modeFits || (renewal && open.SecurityMode != Mode))
        {
            return StatusCode.BadSecurityModeRejected;
        }

        return policy.IsSecure && open.ClientNonce?.Length != policy.NonceBytes ? StatusCode.BadNonceInvalid : StatusCode.Good;
    }

    private void Grant(OpenSecureChannelRequest open, SecurityPolicy policy, uint requestId, ChannelClock now)
    {
        uint lifetimeMs = open.RequestedLifetime == 0 ? _options.TokenLifetimeMsMax : Math.Clamp(open.RequestedLifetime, _options.TokenLifetimeMsMin, _options.TokenLifetimeMsMax);
        byte[] nonce = RandomNumberGenerator.GetBytes(policy.NonceBytes);
        ChannelKeys? sendKeys = policy.IsSecure ? new ChannelKeys(policy, open.ClientNonce, nonce) : null;
        ChannelKeys? receiveKeys = policy.IsSecure ? new ChannelKeys(policy, nonce, open.ClientNonce) : null;
        var token = new ChannelToken(++_lastTokenId, now.MonotonicMs, lifetimeMs, open.SecurityMode, sendKeys, receiveKeys);
        if (State == ConnectionState.Open)
        {
            Other?.Dispose();
            Other = token;
        }
        else
        {
            (ChannelId, Policy, Mode, Sending, State) = (_ids.Next(), policy, open.SecurityMode, token, ConnectionState.Open);
        }

        var response = new OpenSecureChannelResponse
        {
            ResponseHeader = new ResponseHeader { RequestHandle = open.RequestHeader.RequestHandle, Timestamp = now.Utc },
            SecurityToken = new ChannelSecurityToken { ChannelId = ChannelId, TokenId = token.TokenId, CreatedAt = now.Utc, RevisedLifetime = lifetimeMs },
            ServerNonce = policy.IsSecure ? nonce : null,
        };
        Answer(response, policy, requestId);
    }

    // The request was genuine, so the client learns why: a fault, secured like the answer. A channel that is not open ends.
    private void Refuse(StatusCode status, SecurityPolicy policy, RequestHeader header, uint requestId, ChannelClock now)
    {
        Answer(new ServiceFault { ResponseHeader = new ResponseHeader { RequestHandle = header.RequestHandle, Timestamp = now.Utc, ServiceResult = status } }, policy, requestId);
        if (State != ConnectionState.Open)
        {
            Close(status, $"OpenSecureChannel refused: {status}");
        }
    }

    private void Answer(IUaStructure response, SecurityPolicy policy, uint requestId)
    {
        using var body = new UaWriter(65_536);
        ServiceMessage.Write(body, response);
        if (!AsymmetricChunkCodec.TryWrite(Writer, ChannelId, policy, _options.Instance, Peer, NextSequence(requestId), body.Written))
        {
            Close(StatusCode.BadTcpNotEnoughResources, "the peer reads too slowly");
        }
    }
}
