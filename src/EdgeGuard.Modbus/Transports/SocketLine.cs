using System.Net;
using System.Net.Sockets;

namespace EdgeGuard.Modbus.Transports;

/// <summary>A TCP connection as a line of bytes.</summary>
internal sealed class SocketLine : ISerialLine
{
    private readonly IPEndPoint _endPoint;
    private Socket? _socket;

    public SocketLine(IPEndPoint endPoint) => _endPoint = endPoint;

    public bool IsOpen => _socket is not null;

    public void Open(int timeoutMs)
    {
        Close();
        _socket = SocketConnector.Connect(_endPoint, Deadline.After(timeoutMs));
        _socket.Blocking = false; // the pauses of an RTU line are waited for apart from the bytes
    }

    public void Close()
    {
        _socket?.Dispose();
        _socket = null;
    }

    public void Dispose() => Close();

    public int Read(Span<byte> buffer, int timeoutMs)
    {
        if (_socket is not { } socket)
        {
            return -1;
        }

        try
        {
            if (!SocketWait.Until(socket, SelectMode.SelectRead, Deadline.After(timeoutMs)))
            {
                return 0;
            }

            int count = socket.Receive(buffer, SocketFlags.None, out SocketError error);
            return error switch
            {
                SocketError.WouldBlock => 0,
                SocketError.Success when count > 0 => count,
                _ => -1, // closed by the peer, or broken
            };
        }
        catch (Exception e) when (e is SocketException or ObjectDisposedException)
        {
            return -1;
        }
    }

    public bool Write(ReadOnlySpan<byte> bytes, int timeoutMs)
    {
        if (_socket is not { } socket)
        {
            return false;
        }

        try
        {
            return SocketWait.SendAll(socket, bytes, Deadline.After(timeoutMs)) == SocketError.Success;
        }
        catch (Exception e) when (e is SocketException or ObjectDisposedException)
        {
            return false;
        }
    }
}
