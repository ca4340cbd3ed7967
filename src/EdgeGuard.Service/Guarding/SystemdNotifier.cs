using System.Net.Sockets;

namespace EdgeGuard.Service.Guarding;

/// <summary>
/// Tells a service manager that the guard is ready and alive, by datagrams to the socket it names in NOTIFY_SOCKET
/// (sd_notify(3)). Alive means that scans progress, not that the process exists. Without that variable it does nothing.
/// </summary>
internal sealed class SystemdNotifier : IDisposable
{
    private readonly Socket? _socket;

    /// <summary>Connects to the manager's socket; null or empty for none.</summary>
    public SystemdNotifier(string? path)
    {
        if (string.IsNullOrEmpty(path) || OperatingSystem.IsWindows())
        {
            return;
        }

        var socket = new Socket(AddressFamily.Unix, SocketType.Dgram, ProtocolType.Unspecified);
        try
        {
            // A leading @ stands for the abstract namespace, whose names begin with a zero byte.
            socket.Connect(new UnixDomainSocketEndPoint(path[0] == '@' ? "\0" + path[1..] : path));
            socket.Blocking = false;
            _socket = socket;
        }
        catch (SocketException)
        {
            socket.Dispose();
        }
    }

    public void Ready() => Send("READY=1\nWATCHDOG=1"u8);

    public void Alive() => Send("WATCHDOG=1"u8);

    public void Stopping() => Send("STOPPING=1"u8);

    public void Dispose() => _socket?.Dispose();

    private void Send(ReadOnlySpan<byte> message)
    {
        // With an error code instead of an exception: a manager that is gone must cost nothing.
        _socket?.Send(message, SocketFlags.None, out _);
    }
}
