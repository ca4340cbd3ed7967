using System.Buffers;
using System.Net.Sockets;
using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.Server;

namespace EdgeGuard.Publication.Hosting;

/// <summary>
/// Moves the bytes of one connection. One loop receives; whoever has something to send takes the place of the sender if
/// it is free and otherwise leaves a mark for it. A client that does not read is not read from either, and is cut off
/// when a send hangs; so a connection costs bounded memory.
/// </summary>
internal sealed class ConnectionLoop : IThreadPoolWorkItem
{
    private const int SendLimitMs = 30_000;
    private const int Idle = 0;
    private const int Sending = 1;
    private const int SendingMore = 2;

    private readonly Socket _socket;
    private readonly UaServerPeer _peer;
    private readonly IServerLog _log;
    private byte[] _buffer;
    private UaWriter _spare;
    private int _sender;

    public ConnectionLoop(Socket socket, UaServerPeer peer, IServerLog log)
    {
        (_socket, _peer, _log) = (socket, peer, log);
        _buffer = ArrayPool<byte>.Shared.Rent(peer.ReceiveBytesMax);
        _spare = peer.CreateOutput();
        peer.OnOutput(Signal);
    }

    /// <summary>Runs until the connection has ended.</summary>
    public async Task Run()
    {
        string? cause = null;
        try
        {
            await ReceiveAll().ConfigureAwait(false);
        }
        catch (Exception e) when (e is SocketException or ObjectDisposedException or OperationCanceledException)
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

    /// <summary>The work of a sender that was started by another thread than the receiving one.</summary>
    public void Execute() => _ = SendAllSafely();

    private async Task ReceiveAll()
    {
        int filled = 0;
        while (!_peer.IsClosed)
        {
            int received = await _socket.ReceiveAsync(_buffer.AsMemory(filled), SocketFlags.None).ConfigureAwait(false);
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
            await Flush(isSender).ConfigureAwait(false);
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

    // Sends what there is before more is received; waits for another sender too, so that a client that does not read stops being read.
    private async ValueTask Flush(bool isSender)
    {
        while (!isSender && !TryBecomeSender())
        {
            await Task.Delay(1).ConfigureAwait(false);
        }

        await SendAll().ConfigureAwait(false);
    }

    private bool TryBecomeSender() => Interlocked.CompareExchange(ref _sender, Sending, Idle) == Idle;

    private void Signal()
    {
        if (TryBecomeSender())
        {
            ThreadPool.UnsafeQueueUserWorkItem(this, preferLocal: false);
            return;
        }

        if (Interlocked.CompareExchange(ref _sender, SendingMore, Sending) == Idle)
        {
            Signal();
        }
    }

    private async Task SendAllSafely()
    {
        try
        {
            await SendAll().ConfigureAwait(false);
            if (_peer.IsClosed)
            {
                _socket.Dispose();
            }
        }
        catch (Exception e) when (e is SocketException or ObjectDisposedException or OperationCanceledException)
        {
            _socket.Dispose();
        }
    }

    private async ValueTask SendAll()
    {
        while (true)
        {
            if (_peer.TakeOutput(_spare) is { } filled)
            {
                _spare = filled;
                await Send(filled.WrittenMemory).ConfigureAwait(false);
                continue;
            }

            if (Interlocked.CompareExchange(ref _sender, Idle, Sending) == Sending)
            {
                return;
            }

            Volatile.Write(ref _sender, Sending);
        }
    }

    private async ValueTask Send(ReadOnlyMemory<byte> bytes)
    {
        CancellationTokenSource? limit = null;
        try
        {
            while (!bytes.IsEmpty)
            {
                ValueTask<int> sending = _socket.SendAsync(bytes, SocketFlags.None, limit?.Token ?? CancellationToken.None);
                if (!sending.IsCompleted && limit is null)
                {
                    // Only a send that has to wait gets a clock.
                    limit = new CancellationTokenSource(SendLimitMs);
                    limit.Token.UnsafeRegister(static socket => ((Socket)socket!).Dispose(), _socket);
                }

                int sent = await sending.ConfigureAwait(false);
                bytes = bytes[sent..];
            }
        }
        finally
        {
            limit?.Dispose();
        }
    }

    private void End(string? cause)
    {
        // A channel that was closed in order is no event for the log; its session said so.
        if (cause is not null && !_peer.IsClosedInOrder)
        {
            _log.Refused($"connection from {_peer.Remote} ended: {cause}");
        }

        _peer.Closed(HostClock.Now);
        _socket.Dispose();
        ArrayPool<byte>.Shared.Return(_buffer);
        _buffer = [];
        if (TryBecomeSender())
        {
            _spare.Dispose();
        }
    }
}
