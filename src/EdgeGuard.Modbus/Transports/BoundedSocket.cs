using System.Net.Sockets;

namespace EdgeGuard.Modbus.Transports;

/// <summary>
/// A connected socket whose every wait happens inside the one system call that also moves the bytes, bounded by the
/// kernel's own time-outs (SO_RCVTIMEO, SO_SNDTIMEO). A wait of its own before each receive would cost a second call a
/// transaction. The kernel's time-out is set only when it changes, so in steady state not at all. The socket must never
/// have been non-blocking: the runtime would then imitate blocking with a thread of its own and allocate.
/// </summary>
internal sealed class BoundedSocket : IBoundedStream
{
    /// <summary>The peer has closed, or the connection is broken.</summary>
    public const int Lost = -1;

    private readonly Socket _socket;
    private int _receiveTimeoutMs;
    private int _sendTimeoutMs;

    /// <summary>Takes the socket over.</summary>
    public BoundedSocket(Socket socket) => _socket = socket;

    /// <summary>True when bytes wait to be received.</summary>
    public bool HasReceived
    {
        get
        {
            try
            {
                return _socket.Available > 0;
            }
            catch (Exception e) when (e is SocketException or ObjectDisposedException)
            {
                return false; // the next call says so
            }
        }
    }

    /// <summary>Receives what is there, waiting until the deadline for the first byte: count of bytes, 0 when none came, or <see cref="Lost"/>.</summary>
    public int Receive(Span<byte> buffer, Deadline deadline)
    {
        int remainingMs = deadline.RemainingMs();
        if (remainingMs == 0)
        {
            return 0;
        }

        try
        {
            if (remainingMs != _receiveTimeoutMs)
            {
                _socket.ReceiveTimeout = remainingMs;
                _receiveTimeoutMs = remainingMs;
            }

            int count = _socket.Receive(buffer, SocketFlags.None, out SocketError error);
            return error switch
            {
                SocketError.Success => count > 0 ? count : Lost,
                SocketError.TimedOut or SocketError.WouldBlock or SocketError.Interrupted => 0,
                _ => Lost,
            };
        }
        catch (Exception e) when (e is SocketException or ObjectDisposedException)
        {
            return Lost;
        }
    }

    /// <summary>Sends everything before the deadline: Success, TimedOut when the peer does not take it, or why not.</summary>
    public SocketError Send(ReadOnlySpan<byte> bytes, Deadline deadline)
    {
        try
        {
            while (!bytes.IsEmpty)
            {
                int remainingMs = deadline.RemainingMs();
                if (remainingMs == 0)
                {
                    return SocketError.TimedOut;
                }

                if (remainingMs != _sendTimeoutMs)
                {
                    _socket.SendTimeout = remainingMs;
                    _sendTimeoutMs = remainingMs;
                }

                int count = _socket.Send(bytes, SocketFlags.None, out SocketError error);
                if (error is not (SocketError.Success or SocketError.Interrupted))
                {
                    return error == SocketError.WouldBlock ? SocketError.TimedOut : error;
                }

                bytes = bytes[count..];
            }

            return SocketError.Success;
        }
        catch (Exception e) when (e is SocketException or ObjectDisposedException)
        {
            return SocketError.ConnectionReset;
        }
    }

    public void Dispose() => _socket.Dispose();
}
