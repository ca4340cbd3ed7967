using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Sessions;

namespace EdgeGuard.OpcUa.Server;

/// <summary>
/// One accepted connection, without I/O. One thread at a time calls <see cref="Receive"/>; answers to Publish come from
/// the thread that calls <see cref="UaServer.Tick"/>. Order of locks: the server's gate before a connection's, never the
/// other way round; so a message is handled with no lock held and only sending takes the connection's.
/// </summary>
public sealed class UaServerPeer : IDisposable
{
    // Headers, padding and signature of one chunk of a symmetric policy stay below this.
    private const int ChunkOverheadBytes = 128;

    // Larger buffers are not kept by a connection that has nothing to say.
    private const int KeptBytesMax = 262_144;

    private readonly UaServer _server;
    private readonly ServerConnection _connection;
    private readonly Lock _gate = new();
    private readonly UaWriter _answer;
    private static readonly RequestHeader NoHeader = new();
    private Action? _outputReady;
    private Action? _abort;
    private int _sessions;
    private int _inFlightBytes;
    private int _countedBytes;

    internal UaServerPeer(UaServer server, string remote, string address, ChannelClock now)
    {
        (_server, Remote, Address, IdleSinceMs) = (server, remote, address, now.MonotonicMs);
        _connection = new ServerConnection(server.Options.Channel, server.ChannelIds, now);
        _answer = new UaWriter(server.Options.Channel.Limits.SendMessageBytesMax);
    }

    /// <summary>Address and port of the client, for the log.</summary>
    public string Remote { get; }

    /// <summary>Address of the client without its port.</summary>
    public string Address { get; }

    /// <summary>Size of the receive buffer needed now, bytes.</summary>
    public int ReceiveBytesMax => _connection.ChunkBytesMaxNow;

    /// <summary>Whether the connection has ended; the shell sends what is left and closes the socket.</summary>
    public bool IsClosed => _connection.State == ConnectionState.Closed;

    /// <summary>Why it ended, in plain words; null while open.</summary>
    public string? CloseCause => _connection.CloseCause;

    /// <summary>Whether the client closed the channel in order.</summary>
    public bool IsClosedInOrder => IsClosed && _connection.CloseStatus == StatusCode.Good;

    /// <summary>Whether a session is active over it.</summary>
    public bool HasSession { get; private set; }

    internal SecurityPolicy Policy => _connection.Policy;

    internal MessageSecurityMode Mode => _connection.Mode;

    internal PeerCertificate? Certificate => _connection.Peer;

    internal uint ChannelId => _connection.ChannelId;

    /// <summary>Largest message the client takes, by size and by number of chunks, with room for the overhead of each chunk.</summary>
    internal int SendBytesMax => (int)Math.Min(_connection.Limits.SendMessageBytesMax, (long)_connection.Limits.SendChunkCountMax * (_connection.Limits.SendChunkBytesMax - ChunkOverheadBytes));

    /// <summary>Since when no session is active over it.</summary>
    internal long IdleSinceMs { get; private set; }

    /// <summary>Last session used over this connection, so that most requests need no look-up. Receiving thread only.</summary>
    internal UaSession? LastSession { get; set; }

    /// <summary>A Read request to decode into again and again. Receiving thread only.</summary>
    internal ReadRequest SpareRead { get; } = new();

    /// <summary>What it reads again and again. Receiving thread only.</summary>
    internal ReadPlan Plan { get; } = new();

    /// <summary>Names what is to be called, by any thread and at any time, when there is something to send. It must not wait.</summary>
    public void OnOutput(Action ready) => Volatile.Write(ref _outputReady, ready);

    /// <summary>Names what breaks the connection off even while a send hangs. It must not wait.</summary>
    public void OnAbort(Action abort) => Volatile.Write(ref _abort, abort);

    /// <summary>Takes received bytes from the front and handles every message that is complete in them. What is to be sent afterwards lies ready in any case.</summary>
    /// <param name="received">What was received and not consumed yet; changed in place.</param>
    /// <param name="now">The time.</param>
    /// <returns>Bytes consumed.</returns>
    public int Receive(Span<byte> received, ChannelClock now)
    {
        int consumed = 0;
        while (true)
        {
            ConnectionStep step;
            int taken;
            lock (_gate)
            {
                step = _connection.Step(received[consumed..], now, out taken);
            }

            consumed += taken;
            if (step == ConnectionStep.Message)
            {
                _server.Handle(this, _connection.Message, _connection.RequestId, now);
                continue;
            }

            if (step != ConnectionStep.Aborted)
            {
                _answer.ClearAndTrim(KeptBytesMax);
                return consumed;
            }
        }
    }

    /// <summary>Hands out what is to be sent and goes on with <paramref name="empty"/>; null when there is nothing.</summary>
    public UaWriter? TakeOutput(UaWriter empty)
    {
        ArgumentNullException.ThrowIfNull(empty);
        lock (_gate)
        {
            // Whoever asks has sent what was handed out before.
            empty.ClearAndTrim(KeptBytesMax);
            UaWriter? filled = _connection.Output.IsEmpty ? null : _connection.SwapOutput(empty);
            _inFlightBytes = filled?.Length ?? 0;
            SlowSinceMs = long.MaxValue;
            CountOutput();
            return filled;
        }
    }

    /// <summary>A buffer fit for <see cref="TakeOutput"/>.</summary>
    public UaWriter CreateOutput() => _connection.CreateOutput();

    /// <summary>The socket is gone: sessions stay, requests that waited on this connection do not.</summary>
    public void Closed(ChannelClock now)
    {
        _server.PeerClosed(this, now);
        Dispose();
    }

    /// <summary>Frees keys and buffers.</summary>
    public void Dispose()
    {
        lock (_gate)
        {
            Count(0);
            _connection.Dispose();
            _answer.Dispose();
        }
    }

    internal UaWriter Answer
    {
        get
        {
            _answer.Clear();
            return _answer;
        }
    }

    /// <summary>Sends a whole message; what does not fit the client is left to the caller.</summary>
    internal StatusCode Send(uint requestId, ReadOnlySpan<byte> body, ChannelClock now)
    {
        StatusCode status;
        lock (_gate)
        {
            status = _connection.Send(requestId, body, now);
            SlowSinceMs = Math.Min(SlowSinceMs, now.MonotonicMs);
            CountOutput();
        }

        if (_server.Output.IsOver)
        {
            _server.RelieveOutput();
        }

        return status;
    }

    /// <summary>Since when something waits without the client taking anything; largest when nothing does.</summary>
    internal long SlowSinceMs { get; private set; } = long.MaxValue;

    /// <summary>Bytes of it that count.</summary>
    internal int OutputBytes => Volatile.Read(ref _countedBytes);

    /// <summary>Breaks the connection off: it is no use to tell a client that does not listen.</summary>
    internal void Abort(string cause)
    {
        lock (_gate)
        {
            _connection.Fail(StatusCode.BadTcpNotEnoughResources, cause);
            _inFlightBytes = 0;
            Count(0);
        }

        Volatile.Read(ref _abort)?.Invoke();
        Ready();
    }

    // Small outputs are not counted, so that the common answer touches nothing that all connections share.
    private void CountOutput()
    {
        int bytes = IsClosed ? 0 : _inFlightBytes + _connection.Output.Length;
        Count(bytes < OutputBudget.SmallBytes ? 0 : bytes);
    }

    private void Count(int bytes)
    {
        if (bytes != _countedBytes)
        {
            _server.Output.Add(bytes - _countedBytes);
            Volatile.Write(ref _countedBytes, bytes);
        }
    }

    /// <summary>Drops what the last Read brought along: its array is used again, but no text of a client is kept.</summary>
    internal void ForgetRead()
    {
        SpareRead.RequestHeader = NoHeader;
        SpareRead.NodesToRead.AsSpan().Clear();
    }

    internal void Ready() => Volatile.Read(ref _outputReady)?.Invoke();

    // Under the server's gate, like what follows.
    internal void SessionActivated()
    {
        _sessions++;
        HasSession = true;
    }

    /// <summary>A session ended or went over to another connection; without any this one counts as half open again.</summary>
    internal void SessionLeft(long nowMs)
    {
        _sessions--;
        HasSession = _sessions > 0;
        IdleSinceMs = nowMs;
    }

    internal void Tick(ChannelClock now, int halfOpenMsMax)
    {
        bool closed;
        lock (_gate)
        {
            bool before = IsClosed;
            _connection.Tick(now);
            if (!HasSession && now.MonotonicMs - IdleSinceMs >= halfOpenMsMax)
            {
                _connection.Fail(StatusCode.BadTimeout, "no session was made in time");
            }

            closed = !before && IsClosed;
        }

        if (closed)
        {
            Ready();
        }
    }

    internal void CutOff(string cause)
    {
        lock (_gate)
        {
            _connection.Fail(StatusCode.BadTcpServerTooBusy, cause);
        }

        Ready();
    }
}
