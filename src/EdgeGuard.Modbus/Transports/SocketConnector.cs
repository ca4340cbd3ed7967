using System.Net;
using System.Net.Sockets;

namespace EdgeGuard.Modbus.Transports;

/// <summary>
/// Opens a TCP connection within a deadline, set up for field traffic: no delay for small frames, and
/// keep-alive, so that a half-open connection is found while nothing is asked.
/// </summary>
internal static class SocketConnector
{
    private const int KeepAliveTimeS = 10;
    private const int KeepAliveIntervalS = 2;
    private const int KeepAliveRetryCount = 3;

    /// <summary>Connects; throws <see cref="LinkOpenException"/> when refused or not reached in time. On Linux the socket has never been non-blocking.</summary>
    public static Socket Connect(IPEndPoint endPoint, Deadline deadline)
    {
        Socket socket = new(endPoint.AddressFamily, SocketType.Stream, ProtocolType.Tcp);
        try
        {
            Prepare(socket);
            if (OperatingSystem.IsLinux())
            {
                // Linux bounds connect by the time-out for sending (socket(7)).
                socket.SendTimeout = Math.Max(1, deadline.RemainingMs());
                socket.Connect(endPoint);
            }
            else
            {
                ConnectWithin(socket, endPoint, deadline);
            }

            return socket;
        }
        catch (SocketException e)
        {
            socket.Dispose();
            throw LinkOpenException.From(endPoint, e);
        }
        catch
        {
            socket.Dispose();
            throw;
        }
    }

    private static void Prepare(Socket socket)
    {
        socket.NoDelay = true;
        socket.SetSocketOption(SocketOptionLevel.Socket, SocketOptionName.KeepAlive, true);
        socket.SetSocketOption(SocketOptionLevel.Tcp, SocketOptionName.TcpKeepAliveTime, KeepAliveTimeS);
        socket.SetSocketOption(SocketOptionLevel.Tcp, SocketOptionName.TcpKeepAliveInterval, KeepAliveIntervalS);
        socket.SetSocketOption(SocketOptionLevel.Tcp, SocketOptionName.TcpKeepAliveRetryCount, KeepAliveRetryCount);
    }

    private static void ConnectWithin(Socket socket, IPEndPoint endPoint, Deadline deadline)
    {
        socket.Blocking = false;
        try
        {
            socket.Connect(endPoint);
        }
        catch (SocketException e) when (e.SocketErrorCode is SocketError.WouldBlock or SocketError.InProgress)
        {
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

        socket.Blocking = true;
    }
}
