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
    private const int WindowLength = 1024;

    private readonly IPEndPoint _endPoint;
    private readonly ModbusTlsOptions? _security;
    private readonly ClientEngine _engine;
    private readonly ReceiveWindow _window = new(WindowLength);
    private volatile IBoundedStream? _socket;
    private int _pieceCount;

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
    public override void Connect(int timeoutMs)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(timeoutMs, 1);
        Close();
        Deadline deadline = Deadline.After(timeoutMs);
        Socket connected = SocketConnector.Connect(_endPoint, deadline);
        IBoundedStream socket = _security is null ? new BoundedSocket(connected) : BoundedTls.Connect(connected, _endPoint, _security, deadline);
        _engine.Reset();
        _window.Clear();
        Tally.Connected();
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
    private protected override bool TryStart(byte unitId, Deadline deadline, out ModbusOutcome failure)
    {
        failure = ModbusOutcome.NotConnected;
        IBoundedStream? socket = _socket;
        if (socket is null)
        {
            return false;
        }

        Tally.Request();
        _pieceCount = 0;
        ClientStatus status = TakeAll(default);
        while (status != ClientStatus.Broken && socket.HasReceived)
        {
            int count = socket.Receive(_window.MakeRoom(), deadline);
            if (count <= 0)
            {
                failure = End(count == 0 ? ModbusOutcome.Timeout : ModbusOutcome.ConnectionLost);
                return false;
            }

            _window.Commit(count);
            status = TakeAll(default);
        }

        failure = status == ClientStatus.Broken ? End(ModbusOutcome.BadAnswer) : ModbusOutcome.None;
        return status != ClientStatus.Broken;
    }

    private protected override ModbusResult Finish(Span<ushort> words, Deadline deadline)
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
            int count = socket.Receive(_window.MakeRoom(), deadline);
            if (count <= 0)
            {
                return Fail(count == 0 ? ModbusOutcome.Timeout : ModbusOutcome.ConnectionLost);
            }

            _window.Commit(count);
            _pieceCount++;
            switch (TakeAll(words))
            {
                case ClientStatus.Completed:
                    return Complete();
                case ClientStatus.Broken:
                    return Fail(ModbusOutcome.BadAnswer);
                default:
                    break;
            }
        }
    }

    private ClientStatus TakeAll(Span<ushort> words)
    {
        while (true)
        {
            ClientStatus status = _engine.Take(_window.Unread, words, out int consumed);
            _window.Consume(consumed);
            if (status != ClientStatus.LateDropped)
            {
                return status;
            }

            Tally.LateAnswer(_engine.WasDuplicate);
            if (_window.Unread.IsEmpty)
            {
                _pieceCount = 0; // the answer itself has not begun
            }
            else
            {
                Tally.Glued();
            }
        }
    }

    private ModbusResult Complete()
    {
        if (_pieceCount > 1)
        {
            Tally.Split();
        }

        if (!_window.Unread.IsEmpty)
        {
            Tally.Glued();
        }

        if (_engine.HadZeroTransactionId)
        {
            Tally.ZeroTransactionId();
        }

        Tally.Ended(_engine.Result.Outcome);
        return _engine.Result;
    }

    private ModbusResult Fail(ModbusOutcome outcome) => new(End(outcome));

    private ModbusOutcome End(ModbusOutcome outcome)
    {
        _engine.Abandon(outcome);
        Tally.Ended(outcome);
        if (outcome == ModbusOutcome.BadAnswer)
        {
            Tally.Bad(_engine.Fault);
        }
        else if (outcome == ModbusOutcome.Timeout && !_window.Unread.IsEmpty)
        {
            Tally.Truncated();
        }

        Close();
        return outcome;
    }
}
