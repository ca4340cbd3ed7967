using System.Net.Sockets;

namespace EdgeGuard.Modbus.Transports;

/// <summary>
/// Waits on a non-blocking socket until a deadline. The sockets of this library never block in send or receive: a
/// wake-up without data would otherwise hold the caller past its deadline.
/// </summary>
internal static class SocketWait
{
    private const int MaxSliceMs = 60_000; // keeps the microseconds inside an int

    /// <summary>True when the socket is ready (or broken: the next call says so) before the deadline.</summary>
    public static bool Until(Socket socket, SelectMode mode, Deadline deadline)
    {
        while (true)
        {
            int remainingMs = deadline.RemainingMs();
            if (socket.Poll(Math.Min(remainingMs, MaxSliceMs) * 1000, mode))
            {
                return true;
            }

            if (remainingMs == 0)
            {
                return false;
            }
        }
    }

    /// <summary>Sends everything before the deadline; TimedOut when the peer does not take it.</summary>
    public static SocketError SendAll(Socket socket, ReadOnlySpan<byte> bytes, Deadline deadline)
    {
        while (!bytes.IsEmpty)
        {
            int sent = socket.Send(bytes, SocketFlags.None, out SocketError error);
            if (error == SocketError.Success)
            {
                bytes = bytes[sent..];
            }
            else if (error != SocketError.WouldBlock)
            {
                return error;
            }
            else if (!Until(socket, SelectMode.SelectWrite, deadline))
            {
                return SocketError.TimedOut;
            }
        }

        return SocketError.Success;
    }
}
