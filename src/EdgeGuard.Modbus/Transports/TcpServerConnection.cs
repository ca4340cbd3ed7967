using System.Net.Sockets;
using EdgeGuard.Modbus.Framing;
using EdgeGuard.Modbus.Security;
using EdgeGuard.Modbus.Server;

namespace EdgeGuard.Modbus.Transports;

/// <summary>
/// One client of the server on a thread of its own, so that a slow or hostile client delays nobody else. Fixed
/// buffers; closes on anything that is not Modbus TCP, on a frame that stalls and on silence.
/// </summary>
internal sealed class TcpServerConnection : IDisposable
{
    private const int WindowLength = 1024;
    private const int ResyncSilenceMs = 20; // RTU inside TCP: a pause that no network puts into the middle of a frame
    private const int OutputLength = 4 * MbapCodec.MaxFrameLength;

    private readonly TcpModbusServer _server;
    private readonly TcpModbusServerOptions _options;
    private readonly Socket _accepted;
    private IBoundedStream? _stream;
    private readonly ModbusServerEngine _engine;
    private readonly ReceiveWindow _window = new(WindowLength);
    private readonly byte[] _output = new byte[OutputLength];

    public TcpServerConnection(TcpModbusServer server, TcpModbusServerOptions options, Socket socket, ModbusServerEngine engine)
    {
        _server = server;
        _options = options;
        _accepted = socket;
        _engine = engine;
    }

    /// <summary>Ends the connection from another thread; the own thread wakes up and cleans up.</summary>
    public void Abort()
    {
        try
        {
            _accepted.Shutdown(SocketShutdown.Both);
        }
        catch (Exception e) when (e is SocketException or ObjectDisposedException)
        {
            // Already gone.
        }
    }

    public void Dispose()
    {
        _stream?.Dispose();
        _accepted.Dispose();
    }

    /// <summary>Body of the thread.</summary>
    public void Run()
    {
        try
        {
            _stream = _options.Security is null ? new BoundedSocket(_accepted) : Secure(_options.Security);
            if (_stream is null || !Serve(_stream))
            {
                _server.Tally.ConnectionClosed();
            }
        }
        finally
        {
            Dispose();
            _server.Remove(this);
        }
    }

    /// <summary>The secured connection, with the rights of the client's role; null when there is no agreement.</summary>
    private BoundedTls? Secure(ModbusTlsServerOptions security)
    {
        BoundedTls? tls = BoundedTls.Accept(_accepted, security);
        if (tls is not null && _engine is ServerEngine engine)
        {
            engine.Rights = security.RightsOf(ModbusRole.Of(tls.PeerCertificate));
        }

        return tls;
    }

    /// <summary>Serves until the end: true when the client closed, false when this side has to.</summary>
    private bool Serve(IBoundedStream stream)
    {
        Deadline deadline = Deadline.After(_options.IdleTimeoutMs);
        bool isPartial = false;
        while (true)
        {
            bool endsBySilence = _engine.EndsBySilence && !_window.Unread.IsEmpty;
            Deadline wait = endsBySilence ? Deadline.Earlier(Deadline.After(ResyncSilenceMs), deadline) : deadline;
            int count = stream.Receive(_window.MakeRoom(), wait);
            if (count == BoundedSocket.Lost)
            {
                return true;
            }

            if (count == 0)
            {
                if (!endsBySilence || !TryEndBySilence())
                {
                    return false;
                }

                isPartial = false;
                deadline = Deadline.After(_options.IdleTimeoutMs);
                continue;
            }

            _window.Commit(count);
            if (!TryAnswerAll(out int frameCount))
            {
                return false;
            }

            // More bytes of the same unfinished frame do not buy more time.
            bool wasPartial = isPartial && frameCount == 0;
            isPartial = !_window.Unread.IsEmpty;
            if (!wasPartial)
            {
                deadline = Deadline.After(isPartial ? _options.StalledFrameTimeoutMs : _options.IdleTimeoutMs);
            }
        }
    }

    /// <summary>RTU: what is left when nothing more comes is one frame or nothing. False when its answer is not taken.</summary>
    private bool TryEndBySilence()
    {
        _engine.IsSilent = _server.Silent;
        ServerStatus status = _engine.ProcessSilence(_window.Unread, _output, out int produced);
        _server.Tally.Processed(status);
        _window.Clear();
        return TrySend(produced);
    }

    /// <summary>Answers all whole requests in the window with as few sends as fit the output buffer.</summary>
    private bool TryAnswerAll(out int frameCount)
    {
        frameCount = 0;
        int used = 0;
        while (true)
        {
            _engine.IsSilent = _server.Silent;
            ServerStatus status = _engine.Process(_window.Unread, _output.AsSpan(used), out int consumed, out int produced);
            _server.Tally.Processed(status);
            _window.Consume(consumed);
            used += produced;
            bool isEnd = status is ServerStatus.NeedMore or ServerStatus.Broken;
            if (isEnd || _output.Length - used < _engine.OutputLength)
            {
                if (!TrySend(used) || status == ServerStatus.Broken)
                {
                    return false;
                }

                used = 0;
            }

            if (isEnd)
            {
                return true;
            }

            frameCount++;
        }
    }

    private bool TrySend(int count) =>
        _stream!.Send(_output.AsSpan(0, count), Deadline.After(_options.StalledFrameTimeoutMs)) == SocketError.Success;
}
