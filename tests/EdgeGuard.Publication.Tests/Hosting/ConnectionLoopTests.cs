using System.Net;
using System.Net.Sockets;
using System.Text;
using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Server;
using EdgeGuard.OpcUa.Transport;
using EdgeGuard.Publication.Hosting;

namespace EdgeGuard.Publication.Tests.Hosting;

/// <summary>Real sockets on the loops of connections: what a client sees when it is cut off, and that one which does not read holds up nobody.</summary>
public sealed class ConnectionLoopTests : IDisposable
{
    private const int WaitMs = 60_000;
    private readonly UaServer _server;
    private readonly SocketHost _host;

    public ConnectionLoopTests()
    {
        var space = new NodeSpace(HostClock.Now.Utc);
        StandardNodes.Load(space);
        var options = new UaServerOptions
        {
            ApplicationUri = "urn:test",
            ApplicationName = "test",
            EndpointUrl = "opc.tcp://localhost",
            AllowNoneSessions = true,
            Limits = new ServerLimits { HalfOpenConnectionsMax = 2 },
        };
        _server = new UaServer(options, space);
        _host = new SocketHost(_server, new IPEndPoint(IPAddress.Loopback, 0), new SilentLog());
        _host.Start();
    }

    public void Dispose()
    {
        _host.Dispose();
        _server.Dispose();
    }

    [Fact]
    public void A_connection_that_gives_way_reads_the_reason_and_then_the_end()
    {
        using Socket first = Dial();
        Greet(first);
        using Socket second = Dial();
        Greet(second);
        using Socket third = Dial();
        byte[] told = ReadToEnd(first);
        Assert.Equal("ERR", Encoding.ASCII.GetString(told, 0, 3));
        Assert.Equal(StatusCode.Good, UaTcpCodec.TryReadError(told.AsSpan(ChunkHeader.HeaderBytes), out StatusCode error, out string? reason));
        Assert.Equal(StatusCode.BadTcpServerTooBusy, error);
        Assert.Contains("gave way", reason, StringComparison.Ordinal);
        Greet(third);
    }

    [Fact]
    public void A_client_that_does_not_read_is_not_read_from_and_holds_up_no_other()
    {
        using Socket deaf = Dial();
        using ClientConnection connection = Open(deaf);
        deaf.SendTimeout = 1000;
        using var body = new UaWriter();
        ServiceMessage.Write(body, new GetEndpointsRequest { RequestHeader = new RequestHeader { RequestHandle = 1 }, EndpointUrl = "opc.tcp://localhost" });
        Assert.Throws<SocketException>(() =>
        {
            // Far more than both sides' buffers hold; it stops because the server stops reading.
            for (int i = 0; i < 10_000_000; i++)
            {
                connection.Send(body.Written, HostClock.Now, out _);
                Flush(deaf, connection);
            }
        });
        using Socket other = Dial();
        Greet(other);
    }

    [Fact]
    public void The_end_of_the_server_ends_every_connection()
    {
        using Socket client = Dial();
        Greet(client);
        _host.Dispose();
        _server.Dispose();
        Assert.Equal("ERR", Encoding.ASCII.GetString(ReadToEnd(client), 0, 3));
    }

    private static ClientConnection Open(Socket socket)
    {
        var connection = new ClientConnection(new ClientChannelOptions { EndpointUrl = "opc.tcp://localhost" }, HostClock.Now);
        byte[] buffer = new byte[65_536];
        int filled = 0;
        while (connection.State != ConnectionState.Open)
        {
            Flush(socket, connection);
            filled += socket.Receive(buffer.AsSpan(filled));
            connection.Step(buffer.AsSpan(0, filled), HostClock.Now, out int consumed);
            Assert.NotEqual(ConnectionState.Closed, connection.State);
            buffer.AsSpan(consumed, filled - consumed).CopyTo(buffer);
            filled -= consumed;
        }

        return connection;
    }

    private static void Flush(Socket socket, ClientConnection connection)
    {
        socket.Send(connection.Output);
        connection.ClearOutput();
    }

    // HEL and ACK: the connection is served.
    private static void Greet(Socket socket)
    {
        using var hello = new UaWriter();
        UaTcpCodec.WriteHello(hello, new TransportLimits().ToHello("opc.tcp://localhost"));
        socket.Send(hello.Written);
        byte[] header = new byte[28];
        Assert.Equal(header.Length, socket.Receive(header));
        Assert.Equal("ACK", Encoding.ASCII.GetString(header, 0, 3));
    }

    private static byte[] ReadToEnd(Socket socket)
    {
        var all = new List<byte>();
        byte[] part = new byte[4096];
        for (int count = socket.Receive(part); count > 0; count = socket.Receive(part))
        {
            all.AddRange(part.AsSpan(0, count));
        }

        return [.. all];
    }

    private Socket Dial()
    {
        var socket = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp) { ReceiveTimeout = WaitMs, SendTimeout = WaitMs };
        socket.Connect(new IPEndPoint(IPAddress.Loopback, _host.Port));
        return socket;
    }

    private sealed class SilentLog : IServerLog
    {
        public void Note(string sentence)
        {
        }

        public void Refused(string sentence)
        {
        }
    }
}
