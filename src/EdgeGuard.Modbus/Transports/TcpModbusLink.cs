using System.Net;
using System.Net.Sockets;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Modbus.Security;

namespace EdgeGuard.Modbus.Transports;

/// <summary>
/// A Modbus TCP client connection. When the deadline of a transaction passes, or when an answer does not fit, the socket
/// is closed, so that an answer that comes too late can never be taken for that of a later request. Addresses only, no
/// names: name resolution has no deadline.
/// </summary>
public sealed class TcpModbusLink : ModbusLink
{
    private readonly IPEndPoint _endPoint;
    private readonly ModbusTlsOptions? _security;
    private readonly ClientEngine _engine;
    private volatile IBoundedStream? _socket;
    private long _peerEndTicks;
    private bool _hasReceived;

    /// <summary>Makes a link; nothing is opened before <see cref="Connect"/>.</summary>
    /// <param name="endPoint">Address and port of the device or gateway.</param>
    /// <param name="options">What is odd about the peer; null for nothing.</param>
    public TcpModbusLink(IPEndPoint endPoint, TcpModbusLinkOptions? options = null)
        : this(endPoint, new ClientEngine(options?.AcceptsZeroTransactionId ?? false), options?.Security)
    {
    }

    private TcpModbusLink(IPEndPoint endPoint, ClientEngine engine, ModbusTlsOptions? security)
        : base(engine)
    {
        security?.Validate();
        _security = security;
        _endPoint = endPoint;
        _engine = engine;
    }

    /// <inheritdoc/>
    public override bool IsConnected => _socket is not null;

    /// <inheritdoc/>
    public override DateTime? PeerCertificateEndUtc =>
        Volatile.Read(ref _peerEndTicks) is var ticks and > 0 ? new DateTime(ticks, DateTimeKind.Utc) : null;

    /// <inheritdoc/>
    public override void Connect(int timeoutMs)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(timeoutMs, 1);
        Close();
        Deadline deadline = Deadline.After(timeoutMs);
        Socket connected = SocketConnector.Connect(_endPoint, deadline);
        IBoundedStream socket = _security is null ? new BoundedSocket(connected) : BoundedTls.Connect(connected, _endPoint, _security, deadline);
        if (socket is BoundedTls tls)
        {
            Volatile.Write(ref _peerEndTicks, tls.PeerCertificate.NotAfter.ToUniversalTime().Ticks);
        }

        _engine.Reset();
        Window.Clear();
        Counters.Add(LinkCounter.Openings);
        _socket = socket;
    }

    /// <inheritdoc/>
    public override void Close()
    {
        IBoundedStream? socket = _socket;
        _socket = null;
        socket?.Dispose();
    }

    /// <summary>
    /// Takes what arrived before the request is sent, so that it cannot be mistaken for its answer, and finds out in
    /// time that the peer has closed.
    /// </summary>
    private protected override ModbusOutcome Ready(Deadline deadline)
    {
        IBoundedStream? socket = _socket;
        if (socket is null)
        {
            return ModbusOutcome.NotConnected;
        }

        Counters.Add(LinkCounter.Requests);
        PieceCount = 0;
        _hasReceived = false;
        ClientStatus status = TakeAll(default);
        while (status != ClientStatus.Broken && socket.HasReceived)
        {
            int count = socket.Receive(Window.MakeRoom(), deadline);
            if (count <= 0)
            {
                return End(count == 0 ? ModbusOutcome.Timeout : ModbusOutcome.ConnectionLost);
            }

            Window.Commit(count);
            _hasReceived = true;
            status = TakeAll(default);
        }

        return status == ClientStatus.Broken ? End(ModbusOutcome.BadAnswer) : ModbusOutcome.None;
    }

    private protected override ModbusResult Transact(Span<ushort> words, Deadline deadline)
    {
        IBoundedStream? socket = _socket;
        if (socket is null)
        {
            return Fail(ModbusOutcome.ConnectionLost);
        }

        SocketError error = socket.Send(_engine.Request, deadline);
        if (error != SocketError.Success)
        {
            return Fail(error == SocketError.TimedOut ? ModbusOutcome.Timeout : ModbusOutcome.ConnectionLost);
        }

        // The deadline holds for all pieces together: a peer that drips, or keeps sending late answers, gains nothing.
        while (true)
        {
            int count = socket.Receive(Window.MakeRoom(), deadline);
            if (count <= 0)
            {
                return Fail(count == 0 ? ModbusOutcome.Timeout : ModbusOutcome.ConnectionLost);
            }

            Window.Commit(count);
            _hasReceived = true;
            PieceCount++;
            switch (TakeAll(words))
            {
                case ClientStatus.Completed:
                    CountZeroTransactionId();
                    return Complete();
                case ClientStatus.Broken:
                    return Fail(ModbusOutcome.BadAnswer);
                default:
                    break;
            }
        }
    }

    private void CountZeroTransactionId()
    {
        if (_engine.HadZeroTransactionId)
        {
            Counters.Add(LinkCounter.ZeroTransactionIds);
        }
    }

    private ModbusResult Fail(ModbusOutcome outcome) => new(End(outcome));

    private ModbusOutcome End(ModbusOutcome outcome)
    {
        _engine.Abandon(outcome);
        Counters.Ended(new ModbusResult(outcome));
        if (outcome == ModbusOutcome.BadAnswer)
        {
            Counters.Bad(_engine.Fault);
        }
        else if (outcome == ModbusOutcome.Timeout)
        {
            CountSilence();
        }

        Close();
        return outcome;
    }

    private void CountSilence()
    {
        if (!Window.Unread.IsEmpty)
        {
            Counters.Add(LinkCounter.TruncatedAnswers);
        }
        else if (!_hasReceived)
        {
            Counters.Add(LinkCounter.SilentClosings);
        }
    }
}
