using System.Net;
using System.Net.Sockets;
using EdgeGuard.Modbus.Transports;

namespace EdgeGuard.Modbus.Tests.Transports;

public sealed class BoundedSocketTests : IDisposable
{
    private readonly Socket _listener = new(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
    private readonly Socket _peer;
    private readonly BoundedSocket _socket;

    public BoundedSocketTests()
    {
        _listener.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        _listener.Listen(1);
        _socket = new BoundedSocket(SocketConnector.Connect((IPEndPoint)_listener.LocalEndPoint!, Deadline.After(Timed.PatienceMs)));
        _peer = _listener.Accept();
    }

    public void Dispose()
    {
        _socket.Dispose();
        _peer.Dispose();
        _listener.Dispose();
    }

    [Fact]
    public void Bytes_that_are_there_come_at_once_and_those_that_come_later_in_time()
    {
        byte[] buffer = new byte[16];
        _peer.Send([1, 2, 3]);
        Timed.Await(() => _socket.HasReceived, "the bytes are there");
        Assert.Equal(3, _socket.Receive(buffer, Deadline.After(Timed.PatienceMs)));
        Assert.False(_socket.HasReceived);
        using Timer later = new(_ => _peer.Send([4]), null, 50, Timeout.Infinite);
        Assert.Equal(1, _socket.Receive(buffer, Deadline.After(Timed.PatienceMs)));
    }

    [Fact]
    public void Silence_ends_at_the_deadline_and_a_closed_peer_is_lost()
    {
        Timed.AssertEndsAt(80, 500, () => Assert.Equal(0, _socket.Receive(new byte[16], Deadline.After(80))));
        _peer.Dispose();
        Assert.Equal(BoundedSocket.Lost, _socket.Receive(new byte[16], Deadline.After(Timed.PatienceMs)));
    }

    [Fact]
    public void A_peer_that_takes_nothing_holds_a_send_no_longer_than_the_deadline()
    {
        byte[] much = new byte[64 * 1024 * 1024];
        Timed.AssertEndsAt(150, 1850, () => Assert.Equal(SocketError.TimedOut, _socket.Send(much, Deadline.After(150))));
    }

    [Fact]
    public void A_deadline_that_has_passed_moves_nothing_and_never_waits()
    {
        // A time-out of 0 means "for ever" to the kernel.
        _peer.Send([1]);
        Timed.Await(() => _socket.HasReceived, "the byte is there");
        Assert.Equal(0, _socket.Receive(new byte[16], Deadline.After(0)));
        Assert.Equal(SocketError.TimedOut, _socket.Send([1], Deadline.After(0)));
        Assert.Equal(0, _peer.Available);
    }
}
