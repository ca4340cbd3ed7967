using System.Net;
using System.Net.Sockets;

namespace EdgeGuard.Modbus.Tests.Security;

/// <summary>Passes bytes between one client after the other and a server, and those of the server in drips when told to.</summary>
internal sealed class DripRelay : IDisposable
{
    private readonly TcpListener _listener = new(IPAddress.Loopback, 0);
    private readonly IPEndPoint _server;

    public DripRelay(IPEndPoint server)
    {
        _server = server;
        _listener.Start();
        new Thread(Run) { IsBackground = true }.Start();
    }

    public IPEndPoint EndPoint => (IPEndPoint)_listener.LocalEndpoint;

    /// <summary>Wait before each byte of the server, ms; 0 passes everything at once.</summary>
    public volatile int DripMs;

    public void Dispose() => _listener.Dispose();

    private void Run()
    {
        try
        {
            while (true)
            {
                PassOne();
            }
        }
        catch (Exception e) when (e is SocketException or InvalidOperationException)
        {
            // The test is over.
        }
    }

    private void PassOne()
    {
        using Socket client = _listener.AcceptSocket();
        using Socket server = new(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        client.NoDelay = true;
        server.Connect(_server);
        var back = new Thread(() => Pump(server, client, isServer: true)) { IsBackground = true };
        back.Start();
        Pump(client, server, isServer: false);
        back.Join();
    }

    private void Pump(Socket from, Socket to, bool isServer)
    {
        byte[] bytes = new byte[4096];
        try
        {
            for (int count; (count = from.Receive(bytes)) > 0;)
            {
                int at = 0;
                for (; isServer && DripMs > 0 && at < count; at++)
                {
                    Thread.Sleep(DripMs);
                    to.Send(bytes.AsSpan(at, 1));
                }

                to.Send(bytes.AsSpan(at, count - at));
            }

            to.Shutdown(SocketShutdown.Send);
        }
        catch (Exception e) when (e is SocketException or ObjectDisposedException)
        {
            // One of the two has closed.
            from.Dispose();
        }
    }
}
