using System.Net;
using System.Net.Sockets;
using EdgeGuard.Modbus.Server;
using EdgeGuard.Modbus.Transports;

namespace EdgeGuard.Modbus.Tests.Transports;

public sealed class TcpServerTests
{
    private static readonly byte[] ReadOne = Hex.Frame(1, 1, 3, 0, 0, 0, 1);

    [Fact]
    public void A_connection_beyond_the_limit_is_closed_and_the_others_go_on()
    {
        using LoopbackServer loopback = new(new TcpModbusServerOptions { MaxConnections = 2 });
        using TcpModbusLink first = loopback.Connect();
        using TcpModbusLink second = loopback.Connect();
        Assert.True(first.WriteCoil(1, 0, true, Timed.PatienceMs).IsGood);
        Assert.True(second.WriteCoil(1, 0, true, Timed.PatienceMs).IsGood);

        using Socket third = Open(loopback);
        AssertClosed(third);
        Assert.True(first.WriteCoil(1, 0, true, Timed.PatienceMs).IsGood);
        Assert.Equal((2, 1), (loopback.Server.Counters.Connections, loopback.Server.Counters.ConnectionsRefused));

        first.Close();
        Timed.Await(() => loopback.Server.ConnectionCount == 1, "the place is free");
        using TcpModbusLink fourth = loopback.Connect();
        Assert.True(fourth.WriteCoil(1, 0, true, Timed.PatienceMs).IsGood);
    }

    [Fact]
    public void An_idle_connection_is_closed()
    {
        // A second of room before each request; all together they are longer than the time.
        using LoopbackServer loopback = new(new TcpModbusServerOptions { IdleTimeoutMs = 1_500 });
        using Socket socket = Open(loopback);
        for (int i = 0; i < 4; i++)
        {
            Thread.Sleep(500); // 2 s in all: each request starts the time anew
            AssertAnswered(socket);
        }

        AssertClosed(socket);
        Timed.Await(() => loopback.Server.Counters.ConnectionsClosed == 1, "the closing is counted");
    }

    [Fact]
    public void A_client_that_drips_one_frame_is_closed_though_bytes_keep_coming()
    {
        using LoopbackServer loopback = new(new TcpModbusServerOptions { StalledFrameTimeoutMs = 150 });
        using Socket socket = Open(loopback);
        long start = Environment.TickCount64;
        bool isClosed = false; // or answered, which is told apart below: the whole frame takes four seconds
        byte[] longFrame = Hex.Frame(1, 1, new byte[200]);
        for (int i = 0; i < longFrame.Length && !isClosed; i++)
        {
            try
            {
                socket.Send([longFrame[i]]);
                isClosed = socket.Poll(20_000, SelectMode.SelectRead);
            }
            catch (SocketException)
            {
                isClosed = true;
            }
        }

        Assert.True(isClosed);
        Assert.InRange(Environment.TickCount64 - start, 140, Timed.PatienceMs);
        AssertClosed(socket);
    }

    [Theory]
    [InlineData("47 45 54 20 2F 20 48 54 54 50 2F 31 2E 31 0D 0A")]
    [InlineData("00 01 00 00 FF FF 01 03")]
    [InlineData("00 01 00 00 00 00")]
    [InlineData("16 03 01 02 00 01 00 01 FC 03 03")]
    public void What_is_not_Modbus_TCP_closes_that_connection_only(string bytes)
    {
        using LoopbackServer loopback = new();
        using Socket good = Open(loopback);
        using Socket bad = Open(loopback);
        bad.Send(Hex.Bytes(bytes));
        AssertClosed(bad);
        AssertAnswered(good);
    }

    [Fact]
    public void Requests_glued_into_one_send_are_all_answered_in_order()
    {
        using LoopbackServer loopback = new();
        using Socket socket = Open(loopback);
        const int Count = 500;
        byte[] all = [.. Enumerable.Range(0, Count).SelectMany(i => Hex.Frame(i, 1, 3, 0, (byte)(i % 200), 0, 1))];
        for (int i = 0; i < 200; i++)
        {
            loopback.Device.HoldingRegisters[i] = (ushort)(i * 3);
        }

        socket.Send(all);
        for (int i = 0; i < Count; i++)
        {
            int value = i % 200 * 3;
            byte[] expected = Hex.Frame(i, 1, 3, 2, (byte)(value >> 8), (byte)(value & 0xFF));
            Assert.Equal(Hex.Text(expected), Hex.Text(ReceiveExactly(socket, expected.Length)));
        }
    }

    [Fact]
    public void A_client_that_never_reads_its_answers_is_closed()
    {
        using LoopbackServer loopback = new(new TcpModbusServerOptions { StalledFrameTimeoutMs = 200 });
        using Socket socket = Open(loopback);
        socket.SendTimeout = Timed.PatienceMs;
        byte[] many = [.. Enumerable.Repeat(Hex.Frame(1, 1, 3, 0, 0, 0, 125), 100).SelectMany(f => f)];
        Action flood = () =>
        {
            for (int i = 0; i < 100_000; i++)
            {
                socket.Send(many);
            }
        };
        Assert.Throws<SocketException>(flood);
        Timed.Await(() => loopback.Server.ConnectionCount == 0 && loopback.Server.Counters.ConnectionsClosed == 1, "closed and counted");
    }

    [Fact]
    public void Random_bytes_on_many_connections_do_not_disturb_a_good_client()
    {
        using LoopbackServer loopback = new();
        using TcpModbusLink link = loopback.Connect();
        Random random = new(7);
        byte[] bytes = new byte[400];
        for (int i = 0; i < 200; i++)
        {
            using Socket socket = Open(loopback);
            random.NextBytes(bytes);
            if (i % 2 == 0)
            {
                Hex.Frame(i, 1, bytes[..250]).CopyTo(bytes, 0);
            }

            socket.Send(bytes.AsSpan(0, random.Next(1, bytes.Length)));
            Assert.True(link.WriteRegister(1, 9, (ushort)i, Timed.PatienceMs).IsGood);
        }

        Timed.Await(() => loopback.Server.ConnectionCount == 1, "all but one are gone");
        Assert.Equal(199, loopback.Device.HoldingRegisters[9]);
    }

    [Fact]
    public void Stop_closes_every_connection_and_frees_the_port()
    {
        using LoopbackServer loopback = new();
        using Socket idle = Open(loopback);
        using Socket halfway = Open(loopback);
        AssertAnswered(idle);
        halfway.Send(ReadOne.AsSpan(0, 5));

        loopback.Server.Stop();

        AssertClosed(idle);
        AssertClosed(halfway);
        using LoopbackServer other = new();
        using TcpModbusServer same = new(loopback.EndPoint, new Dictionary<byte, IModbusDevice>());
        same.Start();
        Assert.Equal(loopback.Server.Port, same.Port);
    }

    [Fact]
    public void A_taken_port_is_told_at_the_start()
    {
        using LoopbackServer loopback = new();
        using TcpModbusServer second = new(loopback.EndPoint, new Dictionary<byte, IModbusDevice>());
        Assert.Equal(SocketError.AddressAlreadyInUse, Assert.Throws<SocketException>(second.Start).SocketErrorCode);
    }

    [Fact]
    public void Silence_can_be_lifted_again()
    {
        using LoopbackServer loopback = new();
        using Socket socket = Open(loopback);
        loopback.Server.Silent = true;
        socket.Send(ReadOne);
        Timed.Await(() => loopback.Server.Counters.Discarded == 1, "the request is discarded");
        Assert.False(socket.Poll(100_000, SelectMode.SelectRead));
        loopback.Server.Silent = false;
        AssertAnswered(socket);
    }

    [Fact]
    public void Options_out_of_range_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => Make(new TcpModbusServerOptions { MaxConnections = 0 }));
        Assert.Throws<ArgumentOutOfRangeException>(() => Make(new TcpModbusServerOptions { MaxConnections = 257 }));
        Assert.Throws<ArgumentOutOfRangeException>(() => Make(new TcpModbusServerOptions { IdleTimeoutMs = 0 }));
        Assert.Throws<ArgumentOutOfRangeException>(() => Make(new TcpModbusServerOptions { StalledFrameTimeoutMs = 60_001 }));
        static void Make(TcpModbusServerOptions options) =>
            _ = new TcpModbusServer(new IPEndPoint(IPAddress.Loopback, 0), new Dictionary<byte, IModbusDevice>(), options);
    }

    private static Socket Open(LoopbackServer loopback)
    {
        Socket socket = new(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp) { NoDelay = true, ReceiveTimeout = Timed.PatienceMs };
        socket.Connect(loopback.EndPoint);
        return socket;
    }

    private static void AssertAnswered(Socket socket)
    {
        socket.Send(ReadOne);
        Assert.Equal("00 01 00 00 00 05 01 03 02", Hex.Text(ReceiveExactly(socket, 11).AsSpan(0, 9)));
    }

    private static byte[] ReceiveExactly(Socket socket, int count)
    {
        byte[] bytes = new byte[count];
        for (int have = 0; have < count;)
        {
            int got = socket.Receive(bytes.AsSpan(have));
            Assert.NotEqual(0, got);
            have += got;
        }

        return bytes;
    }

    private static void AssertClosed(Socket socket)
    {
        Assert.True(socket.Poll(Timed.PatienceMs * 1000, SelectMode.SelectRead), "still open");
        try
        {
            Assert.Equal(0, socket.Receive(new byte[16]));
        }
        catch (SocketException e)
        {
            Assert.Equal(SocketError.ConnectionReset, e.SocketErrorCode);
        }
    }
}
