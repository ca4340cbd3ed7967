using System.Buffers;
using System.Net.Sockets;
using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.Server;

namespace EdgeGuard.Publication.Hosting;

/// <summary>
/// Moves the bytes of one connection on blocking calls: one receive and one send for a request, and work that takes long,
/// such as a password, holds up no other connection. The receiving thread sends its answers itself; what other threads
/// have to send goes by a second thread that is started when first needed, so that they never wait for a client. A
/// client that does not read is not read from either, and is cut off when a send hangs; so a connection costs bounded
/// memory and two threads.
/// </summary>
internal class ConnectionLoop
{
    private const int SendLimitMs = 30_000;
    private const int StackBytes = 1_048_576;
    private const int Idle = 0;
    private const int Sending = 1;
    private const int SendingMore = 2;

    private readonly Socket _socket;
    private readonly UaServerPeer _peer;
    private readonly IServerLog _log;
    private readonly object _wake = new();
    private byte[] _buffer;
    private UaWriter _spare;
    private int _sender;
    private bool _senderStarted;
    private bool _senderWanted;
    private bool _ended;
    private bool _sendFailed;
    private string? _senderFault;

    public ConnectionLoop(Socket socket, UaServerPeer peer, IServerLog log)
    {
        (_socket, _peer, _log) = (socket, peer, log);
        _socket.SendTimeout = SendLimitMs;
        _buffer = ArrayPool<byte>.Shared.Rent(peer.ReceiveBytesMax);
        _spare = peer.CreateOutput();
        peer.OnOutput(Signal);
        peer.OnAbort(Wind);
    }

    /// <summary>Starts its thread.</summary>
    /// <exception cref="OutOfMemoryException">The system gives no more threads.</exception>
    public void Start()
    {
        try
        {
            StartThread(Run, "connection");
        }
        catch
        {
            End("the system gives no more threads");
            throw;
        }
    }

    /// <summary>Starts one of its threads; a test lets the system have no more.</summary>
    /// <exception cref="OutOfMemoryException">The system gives no more threads.</exception>
    protected virtual void StartThread(ThreadStart run, string name) => new Thread(run, StackBytes) { IsBackground = true, Name = name }.Start();

    private void Run()
    {
        string? cause = null;
        try
        {
            ReceiveAll();
        }
        catch (Exception e) when (e is SocketException or ObjectDisposedException)
        {
            cause = e.Message;
        }
        catch (Exception e)
        {
            // A fault of ours in one connection ends that connection, never the others.
            cause = $"internal fault: {e}";
        }

        End(_peer.CloseCause ?? cause);
    }

    private void ReceiveAll()
    {
        int filled = 0;
        while (!_peer.IsClosed)
        {
            int received = _socket.Receive(_buffer.AsSpan(filled));
            if (received == 0)
            {
                return;
            }

            filled += received;

            // As sender from the start: an answer made while receiving then needs no other thread.
            bool isSender = TryBecomeSender();
            int consumed = _peer.Receive(_buffer.AsSpan(0, filled), HostClock.Now);
            filled -= consumed;
            Buffer.BlockCopy(_buffer, consumed, _buffer, 0, filled);
            EnsureRoom(filled);
            Flush(isSender);
        }
    }

    // The handshake may agree on larger chunks than fit the first buffer.
    private void EnsureRoom(int filled)
    {
        if (_buffer.Length < _peer.ReceiveBytesMax)
        {
            byte[] larger = ArrayPool<byte>.Shared.Rent(_peer.ReceiveBytesMax);
            Buffer.BlockCopy(_buffer, 0, larger, 0, filled);
            ArrayPool<byte>.Shared.Return(_buffer);
            _buffer = larger;
        }
    }

    // Sends what there is before more is received; waits for another sender too, so that a client that does not read stops
    // being read. A sender that failed never gives its place back: nothing more can be sent, and the connection ends.
    private void Flush(bool isSender)
    {
        while (!isSender && !TryBecomeSender())
        {
            if (Volatile.Read(ref _sendFailed))
            {
                throw new SocketException((int)SocketError.ConnectionReset);
            }

            Thread.Sleep(1);
        }

        SendAll();
    }

    private bool TryBecomeSender() => Interlocked.CompareExchange(ref _sender, Sending, Idle) == Idle;

    private void Signal()
    {
        if (TryBecomeSender())
        {
            WakeSender();
            return;
        }

        if (Interlocked.CompareExchange(ref _sender, SendingMore, Sending) == Idle)
        {
            Signal();
        }
    }

    // Called by whoever has just become the sender, so never by two threads at once.
    private void WakeSender()
    {
        if (!_senderStarted && !TryStartSender())
        {
            return;
        }

        lock (_wake)
        {
            _senderWanted = true;
            Monitor.Pulse(_wake);
        }
    }

    // Whoever has something to tell, the publishing of all sessions for one, must not pay for the shortage: it ends this
    // connection alone.
    private bool TryStartSender()
    {
        try
        {
            StartThread(SendOnDemand, "connection sender");
            _senderStarted = true;
        }
        catch (Exception e) when (e is OutOfMemoryException or ThreadStartException)
        {
            FailSender($"the system gives no more threads: {e.Message}");
            Wind();
        }

        return _senderStarted;
    }

    private void FailSender(string? fault)
    {
        _senderFault = fault;
        Volatile.Write(ref _sendFailed, true);
    }

    private void SendOnDemand()
    {
        while (WaitUntilWanted())
        {
            SendAllSafely();
        }
    }

    private bool WaitUntilWanted()
    {
        lock (_wake)
        {
            while (!_senderWanted && !_ended)
            {
                Monitor.Wait(_wake);
            }

            _senderWanted = false;
            return !_ended;
        }
    }

    private void SendAllSafely()
    {
        try
        {
            SendAll();
            if (!_peer.IsClosed)
            {
                return;
            }
        }
        catch (Exception e) when (e is SocketException or ObjectDisposedException)
        {
            FailSender(null);
        }
        catch (Exception e)
        {
            // A fault of ours in one connection ends that connection; out of this thread it would end the publisher.
            FailSender($"internal fault while sending: {e}");
        }

        Wind();
    }

    // Wakes the receiving thread, which ends the connection; what was sent still arrives.
    private void Wind()
    {
        try
        {
            _socket.Shutdown(SocketShutdown.Both);
        }
        catch (Exception e) when (e is SocketException or ObjectDisposedException)
        {
            _socket.Dispose();
        }
    }

    private void SendAll()
    {
        while (true)
        {
            if (_peer.TakeOutput(_spare) is { } filled)
            {
                _spare = filled;
                Send(filled.Written);
                continue;
            }

            if (Interlocked.CompareExchange(ref _sender, Idle, Sending) == Sending)
            {
                return;
            }

            Volatile.Write(ref _sender, Sending);
        }
    }

    private void Send(ReadOnlySpan<byte> bytes)
    {
        while (!bytes.IsEmpty)
        {
            bytes = bytes[SendSome(bytes)..];
        }
    }

    /// <summary>Sends what the system takes now and returns how much that was, bytes.</summary>
    protected virtual int SendSome(ReadOnlySpan<byte> bytes) => _socket.Send(bytes);

    private void End(string? cause)
    {
        // A channel that was closed in order is no event for the log; its session said so. A fault of ours always is.
        string? fault = Volatile.Read(ref _sendFailed) ? _senderFault : null;
        if (fault is not null || (cause is not null && !_peer.IsClosedInOrder))
        {
            _log.Refused($"connection from {_peer.Remote} ended: {fault ?? cause}");
        }

        _peer.Closed(HostClock.Now);
        _socket.Dispose();
        ArrayPool<byte>.Shared.Return(_buffer);
        _buffer = [];
        if (TryBecomeSender())
        {
            _spare.Dispose();
        }

        lock (_wake)
        {
            _ended = true;
            Monitor.Pulse(_wake);
        }
    }
}
