using System.Net;
using System.Net.Sockets;
using EdgeGuard.Modbus.Client;

namespace EdgeGuard.Modbus.Transports;

/// <summary>
/// A Modbus TCP client connection. One deadline covers a whole transaction; when it passes, or when an answer does not
/// fit, the socket is closed, so that an answer that comes too late can never be taken for that of a later request.
/// Nothing is repeated here: whether a request may be sent again is the caller's decision. Addresses only, no names:
/// name resolution has no deadline. One thread; only <see cref="Counters"/> and <see cref="IsConnected"/> may be read
/// from others.
/// </summary>
public sealed class TcpModbusLink : IModbusLink
{
    private const int WindowLength = 1024;
    private const int KeepAliveTimeS = 10;
    private const int KeepAliveIntervalS = 2;
    private const int KeepAliveRetryCount = 3;

    private readonly IPEndPoint _endPoint;
    private readonly ClientEngine _engine = new();
    private readonly ReceiveWindow _window = new(WindowLength);
    private readonly LinkTally _tally = new();
    private volatile Socket? _socket;

    /// <summary>Makes a link; nothing is opened before <see cref="Connect"/>.</summary>
    public TcpModbusLink(IPEndPoint endPoint) => _endPoint = endPoint;

    /// <inheritdoc/>
    public bool IsConnected => _socket is not null;

    /// <summary>What the link has seen so far; may be read from any thread.</summary>
    public LinkCounters Counters => _tally.Snapshot();

    /// <summary>Why the last answer was refused; None after a good connect.</summary>
    public AnswerFault LastFault => _engine.Fault;

    /// <inheritdoc/>
    public void Connect(int timeoutMs)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(timeoutMs, 1);
        Close();
        Socket socket = new(_endPoint.AddressFamily, SocketType.Stream, ProtocolType.Tcp);
        try
        {
            Prepare(socket);
            ConnectWithin(socket, Deadline.After(timeoutMs));
        }
        catch
        {
            socket.Dispose();
            throw;
        }

        _engine.Reset();
        _window.Clear();
        _tally.Connected();
        _socket = socket;
    }

    /// <inheritdoc/>
    public void Close()
    {
        Socket? socket = _socket;
        _socket = null;
        socket?.Dispose();
    }

    /// <inheritdoc/>
    public void Dispose() => Close();

    /// <inheritdoc/>
    public ModbusResult ReadRegisters(byte unitId, ModbusTable table, ushort address, Span<ushort> words, int timeoutMs)
    {
        if (!TryBegin(timeoutMs, out Deadline deadline, out ModbusResult failure))
        {
            return failure;
        }

        _engine.BeginReadRegisters(unitId, table, address, words.Length);
        return Finish(words, deadline);
    }

    /// <inheritdoc/>
    public ModbusResult ReadBits(byte unitId, ModbusTable table, ushort address, Span<ushort> words, int timeoutMs)
    {
        if (!TryBegin(timeoutMs, out Deadline deadline, out ModbusResult failure))
        {
            return failure;
        }

        _engine.BeginReadBits(unitId, table, address, words.Length);
        return Finish(words, deadline);
    }

    /// <inheritdoc/>
    public ModbusResult WriteRegister(byte unitId, ushort address, ushort value, int timeoutMs)
    {
        if (!TryBegin(timeoutMs, out Deadline deadline, out ModbusResult failure))
        {
            return failure;
        }

        _engine.BeginWriteRegister(unitId, address, value);
        return Finish(default, deadline);
    }

    /// <inheritdoc/>
    public ModbusResult WriteRegisters(byte unitId, ushort address, ReadOnlySpan<ushort> words, int timeoutMs)
    {
        if (!TryBegin(timeoutMs, out Deadline deadline, out ModbusResult failure))
        {
            return failure;
        }

        _engine.BeginWriteRegisters(unitId, address, words);
        return Finish(default, deadline);
    }

    /// <inheritdoc/>
    public ModbusResult WriteCoil(byte unitId, ushort address, bool value, int timeoutMs)
    {
        if (!TryBegin(timeoutMs, out Deadline deadline, out ModbusResult failure))
        {
            return failure;
        }

        _engine.BeginWriteCoil(unitId, address, value);
        return Finish(default, deadline);
    }

    /// <summary>Writes 1 to 1968 coils (function 15).</summary>
    public ModbusResult WriteCoils(byte unitId, ushort address, ReadOnlySpan<bool> values, int timeoutMs)
    {
        if (!TryBegin(timeoutMs, out Deadline deadline, out ModbusResult failure))
        {
            return failure;
        }

        _engine.BeginWriteCoils(unitId, address, values);
        return Finish(default, deadline);
    }

    private bool TryBegin(int timeoutMs, out Deadline deadline, out ModbusResult failure)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(timeoutMs, 1);
        deadline = Deadline.After(timeoutMs);
        bool clear = TryClear(deadline, out ModbusOutcome outcome);
        failure = clear ? default : new ModbusResult(outcome);
        return clear;
    }

    private static void Prepare(Socket socket)
    {
        socket.Blocking = false;
        socket.NoDelay = true;
        socket.SetSocketOption(SocketOptionLevel.Socket, SocketOptionName.KeepAlive, true);
        socket.SetSocketOption(SocketOptionLevel.Tcp, SocketOptionName.TcpKeepAliveTime, KeepAliveTimeS);
        socket.SetSocketOption(SocketOptionLevel.Tcp, SocketOptionName.TcpKeepAliveInterval, KeepAliveIntervalS);
        socket.SetSocketOption(SocketOptionLevel.Tcp, SocketOptionName.TcpKeepAliveRetryCount, KeepAliveRetryCount);
    }

    private void ConnectWithin(Socket socket, Deadline deadline)
    {
        try
        {
            socket.Connect(_endPoint);
            return;
        }
        catch (SocketException e) when (e.SocketErrorCode is SocketError.WouldBlock or SocketError.InProgress)
        {
            // Under way; the wait below bounds it.
        }

        if (!SocketWait.Until(socket, SelectMode.SelectWrite, deadline))
        {
            throw new SocketException((int)SocketError.TimedOut);
        }

        int error = (int)socket.GetSocketOption(SocketOptionLevel.Socket, SocketOptionName.Error)!;
        if (error != 0)
        {
            throw new SocketException(error);
        }
    }

    /// <summary>
    /// Takes what arrived before the request is sent, so that it cannot be mistaken for its answer, and finds out in
    /// time that the peer has closed.
    /// </summary>
    private bool TryClear(Deadline deadline, out ModbusOutcome failure)
    {
        failure = ModbusOutcome.NotConnected;
        Socket? socket = _socket;
        if (socket is null)
        {
            return false;
        }

        _tally.Request();
        ClientStatus status = TakeAll(default);
        while (status != ClientStatus.Broken && deadline.RemainingMs() > 0)
        {
            if (!TryReceive(socket, out bool isLost))
            {
                failure = isLost ? End(ModbusOutcome.ConnectionLost) : ModbusOutcome.None;
                return !isLost;
            }

            status = TakeAll(default);
        }

        failure = End(status == ClientStatus.Broken ? ModbusOutcome.BadAnswer : ModbusOutcome.Timeout);
        return false;
    }

    private ModbusResult Finish(Span<ushort> words, Deadline deadline)
    {
        Socket? socket = _socket;
        if (socket is null)
        {
            return Fail(ModbusOutcome.ConnectionLost);
        }

        try
        {
            SocketError error = SocketWait.SendAll(socket, _engine.Request, deadline);
            if (error != SocketError.Success)
            {
                return Fail(error == SocketError.TimedOut ? ModbusOutcome.Timeout : ModbusOutcome.ConnectionLost);
            }

            return AwaitAnswer(socket, words, deadline);
        }
        catch (Exception e) when (e is SocketException or ObjectDisposedException)
        {
            return Fail(ModbusOutcome.ConnectionLost);
        }
    }

    private ModbusResult AwaitAnswer(Socket socket, Span<ushort> words, Deadline deadline)
    {
        while (SocketWait.Until(socket, SelectMode.SelectRead, deadline))
        {
            if (!TryReceive(socket, out bool isLost))
            {
                if (isLost)
                {
                    return Fail(ModbusOutcome.ConnectionLost);
                }

                continue;
            }

            switch (TakeAll(words))
            {
                case ClientStatus.Completed:
                    _tally.Ended(_engine.Result.Outcome);
                    return _engine.Result;
                case ClientStatus.Broken:
                    return Fail(ModbusOutcome.BadAnswer);
                default:
                    break;
            }

            if (deadline.RemainingMs() == 0)
            {
                break; // a peer that keeps sending late answers must not hold us
            }
        }

        return Fail(ModbusOutcome.Timeout);
    }

    /// <summary>True when bytes came; false with <paramref name="isLost"/> false when there are none now.</summary>
    private bool TryReceive(Socket socket, out bool isLost)
    {
        isLost = false;
        try
        {
            int count = socket.Receive(_window.MakeRoom(), SocketFlags.None, out SocketError error);
            isLost = error is not (SocketError.Success or SocketError.WouldBlock) || (error == SocketError.Success && count == 0);
            _window.Commit(count);
            return count > 0;
        }
        catch (Exception e) when (e is SocketException or ObjectDisposedException)
        {
            isLost = true;
            return false;
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

            _tally.LateAnswer();
        }
    }

    private ModbusResult Fail(ModbusOutcome outcome) => new(End(outcome));

    private ModbusOutcome End(ModbusOutcome outcome)
    {
        _engine.Abandon(outcome);
        _tally.Ended(outcome);
        Close();
        return outcome;
    }
}
