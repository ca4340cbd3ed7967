using System.Net;
using System.Net.Sockets;
using EdgeGuard.OpcUa.Server;

namespace EdgeGuard.Publication.Hosting;

/// <summary>Accepts connections and gives each its loop. What the engine has no room for is closed at once.</summary>
internal sealed class SocketHost : IDisposable
{
    private const int Backlog = 128;
    private const int RetryMs = 100;

    private readonly UaServer _server;
    private readonly Socket _listener;
    private readonly IServerLog _log;
    private volatile bool _stopping;

    /// <summary>Listens.</summary>
    /// <exception cref="SocketException">The port is in use or may not be used.</exception>
    public SocketHost(UaServer server, IPEndPoint endPoint, IServerLog log)
    {
        (_server, _log) = (server, log);
        _listener = new Socket(endPoint.AddressFamily, SocketType.Stream, ProtocolType.Tcp);
        try
        {
            _listener.Bind(endPoint);
            _listener.Listen(Backlog);
        }
        catch
        {
            _listener.Dispose();
            throw;
        }
    }

    /// <summary>Port that was bound; another than asked for when that was 0.</summary>
    public int Port => ((IPEndPoint)_listener.LocalEndPoint!).Port;

    /// <summary>Starts accepting.</summary>
    public void Start() => _ = AcceptAll();

    public void Dispose()
    {
        _stopping = true;
        _listener.Dispose();
    }

    private async Task AcceptAll()
    {
        while (!_stopping)
        {
            try
            {
                Begin(await _listener.AcceptAsync().ConfigureAwait(false));
            }
            catch (ObjectDisposedException)
            {
                return;
            }
            catch (SocketException e) when (!_stopping)
            {
                // Out of file handles, or the client was gone already: the listener itself is whole.
                _log.Refused($"a connection could not be accepted: {e.Message}");
                await Task.Delay(RetryMs).ConfigureAwait(false);
            }
            catch (SocketException)
            {
                return;
            }
        }
    }

    private void Begin(Socket socket)
    {
        try
        {
            socket.NoDelay = true;
            var remote = socket.RemoteEndPoint as IPEndPoint;
            UaServerPeer? peer = _server.Accept(remote?.ToString() ?? "unknown", remote?.Address.ToString() ?? "unknown", HostClock.Now);
            if (peer is null)
            {
                _log.Refused($"connection from {remote} closed: {_server.Options.Limits.ConnectionsMax} connections are in use");
                socket.Dispose();
                return;
            }

            new ConnectionLoop(socket, peer, _log).Start();
        }
        catch (Exception e) when (e is SocketException or OutOfMemoryException)
        {
            // The client was gone already, or the system gives no more threads: the listener goes on.
            socket.Dispose();
        }
    }
}
