using System.Net;
using System.Net.Sockets;

namespace EdgeGuard.Modbus.Tests.Transports;

/// <summary>A peer that accepts a connection for each of its scripts, one after the other, and runs the script on it: the misbehaving device.</summary>
internal sealed class ScriptedPeer : IDisposable
{
    private readonly Socket _listener = new(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
    private readonly Thread _thread;

    public ScriptedPeer(params Action<Socket>[] scripts)
    {
        _listener.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        _listener.Listen(1);
        _thread = new Thread(() => Array.ForEach(scripts, Run)) { IsBackground = true };
        _thread.Start();
    }

    public IPEndPoint EndPoint => (IPEndPoint)_listener.LocalEndPoint!;

    /// <summary>Reads one request; returns its bytes.</summary>
    public static byte[] Request(Socket socket)
    {
        byte[] bytes = new byte[260];
        int count = socket.Receive(bytes);
        return bytes[..count];
    }

    public void Dispose()
    {
        _listener.Dispose();
        _thread.Join(5000);
    }

    private void Run(Action<Socket> script)
    {
        try
        {
            using Socket socket = _listener.Accept();
            socket.NoDelay = true;
            script(socket);
        }
        catch (Exception e) when (e is SocketException or ObjectDisposedException)
        {
            // The client closed first, which is often what the test is about.
        }
    }
}
