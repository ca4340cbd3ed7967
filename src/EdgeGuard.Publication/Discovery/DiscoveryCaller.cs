using System.Net;
using System.Net.Sockets;
using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.Publication.Hosting;

namespace EdgeGuard.Publication.Discovery;

/// <summary>
/// One connection to a discovery server, on which a few questions are asked: the client engine on a blocking socket. All of
/// it together has a limit of time, so that a server that answers in drips holds nobody.
/// </summary>
internal sealed class DiscoveryCaller : IDisposable
{
    private const int DefaultPort = 4840;
    private const int BufferBytes = 65_536;

    private readonly Socket _socket = new(SocketType.Stream, ProtocolType.Tcp) { NoDelay = true };
    private readonly byte[] _buffer = new byte[BufferBytes];
    private readonly ClientConnection _connection;
    private readonly long _endMs;
    private int _filled;
    private uint _handle;

    /// <summary>Connects and opens the channel.</summary>
    /// <exception cref="IOException">It did not come about; the message says why.</exception>
    /// <exception cref="SocketException">Nobody is there, or no answer came in time.</exception>
    public DiscoveryCaller(Uri url, ClientChannelOptions options, int limitMs)
    {
        _endMs = HostClock.MonotonicMs + limitMs;
        _connection = new ClientConnection(options, HostClock.Now);
        try
        {
            Connect(url, limitMs);
            Flush();
            while (_connection.State != ConnectionState.Open)
            {
                Step();
            }
        }
        catch
        {
            Dispose();
            throw;
        }
    }

    /// <summary>Asks and waits for the answer, which may be a fault.</summary>
    public IServiceResponse Ask(IServiceRequest request)
    {
        request.RequestHeader = new RequestHeader { RequestHandle = ++_handle, Timestamp = HostClock.Now.Utc };
        using var body = new UaWriter();
        ServiceMessage.Write(body, request);
        StatusCode sent = _connection.Send(body.Written, HostClock.Now, out _);
        if (sent != StatusCode.Good)
        {
            throw new IOException($"the question cannot be sent: {sent}");
        }

        Flush();
        while (!Step())
        {
        }

        StatusCode status = ServiceMessage.TryReadResponse(_connection.Message, UaLimits.Default, out IServiceResponse? response);
        return response ?? throw new IOException($"the answer cannot be read: {status}");
    }

    /// <summary>Closes the channel in order, if the other side still takes it.</summary>
    public void Close()
    {
        try
        {
            _connection.CloseChannel(HostClock.Now);
            Flush();
        }
        catch (SocketException)
        {
            // The other side has closed already.
        }
    }

    public void Dispose()
    {
        _connection.Dispose();
        _socket.Dispose();
    }

    private void Connect(Uri url, int limitMs)
    {
        using var limit = new CancellationTokenSource(limitMs);
        try
        {
            _socket.ConnectAsync(new DnsEndPoint(url.DnsSafeHost, url.IsDefaultPort || url.Port < 0 ? DefaultPort : url.Port), limit.Token).AsTask().GetAwaiter().GetResult();
        }
        catch (OperationCanceledException)
        {
            throw new SocketException((int)SocketError.TimedOut);
        }
    }

    // True when a message is complete; receives only when nothing more can be taken from what is there.
    private bool Step()
    {
        ConnectionStep step = _connection.Step(_buffer.AsSpan(0, _filled), HostClock.Now, out int consumed);
        _filled -= consumed;
        Buffer.BlockCopy(_buffer, consumed, _buffer, 0, _filled);
        if (step == ConnectionStep.Closed)
        {
            throw new IOException($"the connection ended: {_connection.CloseCause}");
        }

        Flush();
        if (step != ConnectionStep.Message && consumed == 0)
        {
            _socket.ReceiveTimeout = LeftMs();
            int received = _socket.Receive(_buffer.AsSpan(_filled));
            _filled += received > 0 ? received : throw new IOException("the other side closed the connection");
        }

        return step == ConnectionStep.Message;
    }

    private void Flush()
    {
        for (ReadOnlySpan<byte> output = _connection.Output; !output.IsEmpty;)
        {
            _socket.SendTimeout = LeftMs();
            output = output[_socket.Send(output)..];
        }

        _connection.ClearOutput();
    }

    private int LeftMs()
    {
        long left = _endMs - HostClock.MonotonicMs;
        return left > 0 ? (int)left : throw new SocketException((int)SocketError.TimedOut);
    }
}
