using System.Buffers.Binary;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.Transport;

namespace EdgeGuard.OpcUa.SecureChannel;

/// <summary>
/// One UA-TCP connection with its secure channel, without I/O: bytes and the time go in; whole messages, bytes to send and
/// the next deadline come out. The shell reads into a buffer of at least <see cref="ChunkBytesMaxNow"/>, calls <see cref="Step"/>
/// until it wants more, and sends <see cref="Output"/>. Not safe for several threads.
/// </summary>
public abstract class ChannelConnection : IDisposable
{
    private readonly MessageAssembler _assembler;
    private UaWriter _output;
    private SequenceState _received;
    private SequenceState _sent;

    private protected ChannelConnection(ChannelOptions options, ChannelClock now)
    {
        Limits = options.Limits;

        // A peer that takes 8192 bytes or more must be granted 8192 (OPC 10000-6, 7.1.2.3).
        ArgumentOutOfRangeException.ThrowIfLessThan(Limits.ReceiveChunkBytesMax, TransportLimits.OwnChunkBytesMin, nameof(options));
        ArgumentOutOfRangeException.ThrowIfLessThan(Limits.SendChunkBytesMax, TransportLimits.OwnChunkBytesMin, nameof(options));
        _output = new UaWriter(options.OutputBytesMax, startBytes: 4096);
        _assembler = new MessageAssembler(Limits.ReceiveMessageBytesMax, Limits.ReceiveChunkCountMax);
        HandshakeEndMs = now.MonotonicMs + options.HandshakeMs;
        OutputBytesMax = options.OutputBytesMax;
        State = ConnectionState.Handshake;
    }

    /// <summary>Where the connection is in its life.</summary>
    public ConnectionState State { get; private protected set; }

    /// <summary>Limits in force; agreed ones after the handshake.</summary>
    public TransportLimits Limits { get; private protected set; }

    /// <summary>Identifier of the channel; 0 before it is open.</summary>
    public uint ChannelId { get; private protected set; }

    /// <summary>Policy of the channel.</summary>
    public SecurityPolicy Policy { get; private protected set; } = SecurityPolicy.None;

    /// <summary>Mode of the channel; Invalid before it is open.</summary>
    public MessageSecurityMode Mode { get; private protected set; }

    /// <summary>Certificate of the peer; null under the policy None.</summary>
    public PeerCertificate? Peer { get; private protected set; }

    /// <summary>Why the connection ended; Good when the peer closed the channel in order.</summary>
    public StatusCode CloseStatus { get; private set; }

    /// <summary>Plain words for the log; null while open.</summary>
    public string? CloseCause { get; private set; }

    /// <summary>Request of the completed or aborted message.</summary>
    public uint RequestId { get; private set; }

    /// <summary>Body of the completed message; valid until the next call.</summary>
    public ReadOnlySpan<byte> Message => _assembler.Body;

    /// <summary>Status of the aborted message.</summary>
    public StatusCode AbortStatus { get; private set; }

    /// <summary>Bytes to send.</summary>
    public ReadOnlySpan<byte> Output => _output.Written;

    /// <summary>
    /// Largest chunk that may arrive now, and so the size of the shell's receive buffer. Before the handshake it is small, so
    /// that thousands of half-open connections cost little.
    /// </summary>
    public int ChunkBytesMaxNow => State == ConnectionState.Handshake ? TransportLimits.OwnChunkBytesMin : Limits.ReceiveChunkBytesMax;

    /// <summary>When <see cref="Tick"/> must be called at the latest, in monotonic milliseconds.</summary>
    public long DeadlineMs => State == ConnectionState.Open ? Math.Max(Sending!.EndMs, Other?.EndMs ?? 0) : HandshakeEndMs;

    // The token for sending, and the one beside it: on the server a token issued and not used yet, on the client the one before.
    private protected ChannelToken? Sending { get; set; }

    private protected ChannelToken? Other { get; set; }

    private protected long HandshakeEndMs { get; }

    private protected abstract StatusCode TooLarge { get; }

    private int OutputBytesMax { get; }

    /// <summary>Forgets the output after it was sent.</summary>
    public void ClearOutput() => _output.Clear();

    /// <summary>Hands out the filled output and goes on with another buffer, so that sending and writing may overlap.</summary>
    public UaWriter SwapOutput(UaWriter empty)
    {
        ArgumentNullException.ThrowIfNull(empty);
        empty.Clear();
        (UaWriter filled, _output) = (_output, empty);
        return filled;
    }

    /// <summary>A buffer fit for <see cref="SwapOutput"/>.</summary>
    public UaWriter CreateOutput() => new(OutputBytesMax, startBytes: 4096);

    /// <summary>Takes whole chunks from the front of what was received (and decrypts them there) until something is to be done.</summary>
    public ConnectionStep Step(Span<byte> received, ChannelClock now, out int consumed)
    {
        consumed = 0;
        while (State != ConnectionState.Closed)
        {
            FrameStatus frame = ChunkFramer.Peek(received[consumed..], ChunkBytesMaxNow, out ChunkHeader header, out StatusCode error);
            if (frame == FrameStatus.Incomplete)
            {
                return ConnectionStep.NeedMore;
            }

            if (frame == FrameStatus.Invalid)
            {
                Fail(error, "what was received is not a chunk of UA-TCP within the agreed size");
                break;
            }

            Span<byte> chunk = received.Slice(consumed, header.Bytes);
            consumed += header.Bytes;
            ConnectionStep step = Take(header, chunk, now);
            if (step is ConnectionStep.Message or ConnectionStep.Aborted)
            {
                return step;
            }
        }

        return ConnectionStep.Closed;
    }

    /// <summary>Sends a message in as many chunks as needed. BadResponseTooLarge or BadRequestTooLarge when the peer does not take it: nothing is sent then.</summary>
    public StatusCode Send(uint requestId, ReadOnlySpan<byte> body, ChannelClock now)
    {
        if (State != ConnectionState.Open)
        {
            return StatusCode.BadSecureChannelClosed;
        }

        int room = SymmetricChunkCodec.BodyBytesMax(Mode, Limits.SendChunkBytesMax);
        int chunks = Math.Max(1, (int)(((long)body.Length + room - 1) / room));
        if (body.Length > Limits.SendMessageBytesMax || chunks > Limits.SendChunkCountMax)
        {
            return TooLarge;
        }

        for (int i = 0; i < chunks; i++)
        {
            bool last = i == chunks - 1;
            ReadOnlySpan<byte> part = last ? body[(i * room)..] : body.Slice(i * room, room);
            if (!SendChunk(UaTcpMessageType.Message, last ? ChunkKind.Final : ChunkKind.Intermediate, requestId, part, now))
            {
                return StatusCode.BadSecureChannelClosed;
            }
        }

        return StatusCode.Good;
    }

    /// <summary>Gives up a message of which chunks may already be on their way (OPC 10000-6, 6.7.3).</summary>
    public void SendAbort(uint requestId, StatusCode status, string reason, ChannelClock now)
    {
        using var body = new UaWriter(8192);
        body.WriteStatusCode(status);
        body.WriteString(reason);
        SendChunk(UaTcpMessageType.Message, ChunkKind.Abort, requestId, body.Written, now);
    }

    /// <summary>Ends what has passed its deadline.</summary>
    public void Tick(ChannelClock now)
    {
        if (State != ConnectionState.Closed && now.MonotonicMs >= DeadlineMs)
        {
            bool open = State == ConnectionState.Open;
            Fail(open ? StatusCode.BadSecureChannelClosed : StatusCode.BadTimeout, open ? "the security token was not renewed in time" : "no secure channel was opened in time");
        }
    }

    /// <summary>Ends the connection and tells the peer with ERR.</summary>
    public void Fail(StatusCode status, string cause)
    {
        if (State == ConnectionState.Closed)
        {
            return;
        }

        // A peer whose identity is in doubt learns the status only; every other fault is told in words.
        UaTcpCodec.WriteError(_output, status, status == StatusCode.BadSecurityChecksFailed ? null : cause);
        Close(status, cause);
    }

    /// <summary>Frees keys, certificate and buffers.</summary>
    public void Dispose()
    {
        Dispose(disposing: true);
        GC.SuppressFinalize(this);
    }

    /// <summary>Frees keys, certificate and buffers.</summary>
    protected virtual void Dispose(bool disposing)
    {
        State = ConnectionState.Closed;
        Sending?.Dispose();
        Other?.Dispose();
        Peer?.Dispose();
        _assembler.Dispose();
        _output.Dispose();
    }

    private protected UaWriter Writer => _output;

    private protected abstract ConnectionStep Take(ChunkHeader header, Span<byte> chunk, ChannelClock now);

    // The token a chunk names, or null when it is unknown or over; a token seen for the first time may end another.
    private protected abstract ChannelToken? FindToken(uint tokenId);

    private protected abstract void TokenUsed(ChannelToken token);

    private protected void LimitMessages() => _assembler.Limit(Limits.ReceiveMessageBytesMax, Limits.ReceiveChunkCountMax);

    private protected bool AcceptSequence(uint number)
    {
        if (_received.TryAccept(number))
        {
            return true;
        }

        Fail(StatusCode.BadSequenceNumberInvalid, $"chunk {number} does not follow chunk {_received.Last}: repeated or lost");
        return false;
    }

    private protected SequenceHeader NextSequence(uint requestId) => new(_sent.Next(), requestId);

    // For tests of the wrap: both directions continue after these numbers.
    internal void ForceSequence(uint sent, uint received) => (_sent, _received) = (new SequenceState(sent), new SequenceState(received));

    internal bool SendChunk(UaTcpMessageType type, ChunkKind kind, uint requestId, ReadOnlySpan<byte> body, ChannelClock now)
    {
        if (Sending is not { } token || State != ConnectionState.Open)
        {
            return false;
        }

        // A server goes over to the new token on its own when the old one is over (OPC 10000-4, OpenSecureChannel).
        if (token.IsOver(now.MonotonicMs) && Other is { } other && !other.IsOver(now.MonotonicMs))
        {
            token = other;
        }

        if (SymmetricChunkCodec.TryWrite(_output, type, kind, ChannelId, token, NextSequence(requestId), body))
        {
            return true;
        }

        Close(StatusCode.BadTcpNotEnoughResources, $"the peer reads too slowly: {_output.Length} bytes wait to be sent");
        return false;
    }

    private protected ConnectionStep TakeSymmetric(ChunkHeader header, Span<byte> chunk, ChannelClock now)
    {
        if (State != ConnectionState.Open || chunk.Length < SymmetricChunkCodec.ClearBytes || BinaryPrimitives.ReadUInt32LittleEndian(chunk[8..]) != ChannelId)
        {
            Fail(StatusCode.BadTcpSecureChannelUnknown, "a message for a channel that is not open here");
            return ConnectionStep.Closed;
        }

        if (FindToken(BinaryPrimitives.ReadUInt32LittleEndian(chunk[12..])) is not { } token || token.IsOver(now.MonotonicMs))
        {
            Fail(StatusCode.BadSecureChannelTokenUnknown, "a message under a token that is unknown or over");
            return ConnectionStep.Closed;
        }

        StatusCode status = SymmetricChunkCodec.TryOpen(chunk, token, out SequenceHeader sequence, out ReadOnlySpan<byte> body);
        if (status != StatusCode.Good)
        {
            Fail(status, "the signature of a message is not valid");
            return ConnectionStep.Closed;
        }

        if (!AcceptSequence(sequence.SequenceNumber))
        {
            return ConnectionStep.Closed;
        }

        TokenUsed(token);
        return TakeBody(header, sequence.RequestId, body);
    }

    private protected void Close(StatusCode status, string cause) => (State, CloseStatus, CloseCause) = (ConnectionState.Closed, status, cause);

    private ConnectionStep TakeBody(ChunkHeader header, uint requestId, ReadOnlySpan<byte> body)
    {
        if (header.Type == UaTcpMessageType.CloseChannel)
        {
            Close(StatusCode.Good, "the peer closed the channel");
            return ConnectionStep.Closed;
        }

        StatusCode status = _assembler.Add(header.Kind, requestId, body, out bool complete);
        if (status != StatusCode.Good)
        {
            Fail(status, "a message exceeds the agreed size or number of chunks, or chunks of two messages are mixed");
            return ConnectionStep.Closed;
        }

        RequestId = requestId;
        if (header.Kind == ChunkKind.Abort)
        {
            AbortStatus = UaTcpCodec.TryReadError(body, out StatusCode given, out _) == StatusCode.Good ? given : StatusCode.BadDecodingError;
            return ConnectionStep.Aborted;
        }

        return complete ? ConnectionStep.Message : ConnectionStep.NeedMore;
    }
}
