using System.Buffers;
using System.Security.Cryptography;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.Transport;

namespace EdgeGuard.OpcUa.SecureChannel;

/// <summary>Client side of a connection, for tests and for generating load: HEL, OPN and renewal are written by it, messages are the caller's.</summary>
public sealed class ClientConnection : ChannelConnection
{
    private readonly ClientChannelOptions _options;
    private byte[] _nonce = [];
    private uint _lastRequestId;

    /// <summary>Starts with HEL in the output.</summary>
    /// <exception cref="ArgumentException">The policy needs certificates that are not given or not usable.</exception>
    public ClientConnection(ClientChannelOptions options, ChannelClock now)
        : base(options, now)
    {
        _options = options;
        (Policy, Mode) = (options.Policy, options.Mode);
        if (Policy.IsSecure)
        {
            CertificateVerdict refusal = default;
            Peer = options.Instance is null ? null : PeerCertificate.TryLoad(options.ServerCertificate, Policy, out refusal);
            if (Peer is null)
            {
                throw new ArgumentException("own certificate missing, or the server's not usable: " + refusal.Cause, nameof(options));
            }
        }

        UaTcpCodec.WriteHello(Writer, Limits.ToHello(options.EndpointUrl));
    }

    /// <summary>When the token should be renewed, monotonic milliseconds.</summary>
    public long RenewMs => Sending?.RenewMs ?? long.MaxValue;

    /// <summary>Token in use, 0 before the channel is open.</summary>
    public uint TokenId => Sending?.TokenId ?? 0;

    /// <summary>Lifetime granted by the server, milliseconds.</summary>
    public uint RevisedLifetimeMs { get; private set; }

    private protected override StatusCode TooLarge => StatusCode.BadRequestTooLarge;

    /// <summary>Sends a request.</summary>
    public StatusCode Send(ReadOnlySpan<byte> body, ChannelClock now, out uint requestId)
    {
        requestId = ++_lastRequestId;
        return Send(requestId, body, now);
    }

    /// <summary>Asks for a new token.</summary>
    public void Renew(ChannelClock now) => SendOpen(SecurityTokenRequestType.Renew, now);

    /// <summary>Closes the channel in order.</summary>
    public void CloseChannel(ChannelClock now)
    {
        using var body = new UaWriter(4096);
        ServiceMessage.Write(body, new CloseSecureChannelRequest { RequestHeader = new RequestHeader { Timestamp = now.Utc } });
        SendChunk(UaTcpMessageType.CloseChannel, ChunkKind.Final, ++_lastRequestId, body.Written, now);
        Close(StatusCode.Good, "closed by this side");
    }

    private protected override ConnectionStep Take(ChunkHeader header, Span<byte> chunk, ChannelClock now)
    {
        switch (header.Type)
        {
            case UaTcpMessageType.Acknowledge when State == ConnectionState.Handshake:
                TakeAcknowledge(chunk[ChunkHeader.HeaderBytes..], now);
                return ConnectionStep.NeedMore;
            case UaTcpMessageType.OpenChannel when State is ConnectionState.Opening or ConnectionState.Open:
                TakeOpen(chunk, now);
                return ConnectionStep.NeedMore;
            case UaTcpMessageType.Error:
                UaTcpCodec.TryReadError(chunk[ChunkHeader.HeaderBytes..], out StatusCode error, out string? reason);
                Close(error, "the server ended the connection: " + (reason ?? error.ToString()));
                return ConnectionStep.Closed;
            case UaTcpMessageType.Message:
                return TakeSymmetric(header, chunk, now);
            default:
                Close(StatusCode.BadTcpMessageTypeInvalid, $"{header.Type} is not expected while {State}");
                return ConnectionStep.Closed;
        }
    }

    private protected override ChannelToken? FindToken(uint tokenId) =>
        Sending?.TokenId == tokenId ? Sending : Other?.TokenId == tokenId ? Other : null;

    private protected override void TokenUsed(ChannelToken token)
    {
        if (ReferenceEquals(token, Sending))
        {
            Other?.Dispose();
            Other = null;
        }
    }

    private void TakeAcknowledge(ReadOnlySpan<byte> body, ChannelClock now)
    {
        if (UaTcpCodec.TryReadAcknowledge(body, out AcknowledgeMessage acknowledge) != StatusCode.Good || !Limits.TryAgree(acknowledge, out TransportLimits agreed))
        {
            Close(StatusCode.BadConnectionRejected, "ACK is malformed or its buffers are below the least size");
            return;
        }

        (Limits, State) = (agreed, ConnectionState.Opening);
        LimitMessages();
        SendOpen(SecurityTokenRequestType.Issue, now);
    }

    private void SendOpen(SecurityTokenRequestType type, ChannelClock now)
    {
        _nonce = RandomNumberGenerator.GetBytes(Policy.NonceBytes);
        using var body = new UaWriter(65_536);
        ServiceMessage.Write(body, new OpenSecureChannelRequest
        {
            RequestHeader = new RequestHeader { Timestamp = now.Utc, RequestHandle = _lastRequestId + 1 },
            RequestType = type,
            SecurityMode = Mode,
            ClientNonce = Policy.IsSecure ? _nonce : null,
            RequestedLifetime = _options.TokenLifetimeMs,
        });
        AsymmetricChunkCodec.TryWrite(Writer, ChannelId, Policy, _options.Instance, Peer, NextSequence(++_lastRequestId), body.Written);
    }

    private void TakeOpen(ReadOnlySpan<byte> chunk, ChannelClock now)
    {
        byte[] scratch = ArrayPool<byte>.Shared.Rent(chunk.Length);
        StatusCode status = AsymmetricHeader.TryRead(chunk, out AsymmetricHeader header);
        bool expected = status == StatusCode.Good && string.Equals(header.PolicyUri, Policy.Uri, StringComparison.Ordinal)
            && (!Policy.IsSecure || (header.SenderCertificate.SequenceEqual(Peer!.Chain) && header.ReceiverThumbprint.SequenceEqual(_options.Instance!.Thumbprint)));
        SequenceHeader sequence = default;
        ReadOnlySpan<byte> body = default;
        status = expected ? AsymmetricChunkCodec.TryOpen(chunk, header.ClearBytes, Policy, _options.Instance, Peer, scratch, out sequence, out body) : StatusCode.BadSecurityChecksFailed;
        if (status != StatusCode.Good)
        {
            Close(status, "the server's OPN does not come from the expected server or is not valid");
        }
        else if (AcceptSequence(sequence.SequenceNumber))
        {
            TakeResponse(body, now);
        }

        ArrayPool<byte>.Shared.Return(scratch, clearArray: true);
    }

    private void TakeResponse(ReadOnlySpan<byte> body, ChannelClock now)
    {
        StatusCode status = ServiceMessage.TryReadResponse(body, UaLimits.Default, out IServiceResponse? response);
        if (status != StatusCode.Good || response is not OpenSecureChannelResponse { ResponseHeader.ServiceResult: StatusCode.Good } opened)
        {
            StatusCode result = response?.ResponseHeader.ServiceResult ?? status;
            Close(result, $"OpenSecureChannel was refused: {result}");
            return;
        }

        ChannelSecurityToken granted = opened.SecurityToken;
        ChannelKeys? sendKeys = Policy.IsSecure ? new ChannelKeys(Policy, opened.ServerNonce, _nonce) : null;
        ChannelKeys? receiveKeys = Policy.IsSecure ? new ChannelKeys(Policy, _nonce, opened.ServerNonce) : null;
        Other?.Dispose();
        Other = Sending;
        Sending = new ChannelToken(granted.TokenId, now.MonotonicMs, granted.RevisedLifetime, Mode, sendKeys, receiveKeys);
        (ChannelId, RevisedLifetimeMs, State) = (granted.ChannelId, granted.RevisedLifetime, ConnectionState.Open);
    }
}
