using System.Net;
using System.Net.Sockets;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Modbus.Tests.Client;
using EdgeGuard.Modbus.Transports;

namespace EdgeGuard.Modbus.Tests.Transports;

public sealed class TcpLinkFaultTests
{
    private const int SlackMs = 50;
    private const int NothingMoreMs = 500; // long enough for what the peer sends before it says no more

    public static TheoryData<string> Names => [.. Misbehaviour.All.Select(m => m.Name)];

    [Theory]
    [MemberData(nameof(Names))]
    public void A_misbehaving_peer_is_judged_and_counted_over_a_socket(string name)
    {
        Misbehaviour given = Misbehaviour.All.Single(m => m.Name == name);
        using ScriptedPeer peer = new(socket =>
        {
            ScriptedPeer.Request(socket);
            socket.Send(Hex.Bytes("00 01 00 00 00 07 01 03 04 00 00 00 00"));
            ScriptedPeer.Request(socket);
            foreach (string piece in given.Pieces)
            {
                socket.Send(Hex.Bytes(piece));
                Thread.Sleep(1);
            }

            ScriptedPeer.Request(socket); // until the client closes
        });
        using TcpModbusLink link = new(peer.EndPoint);
        link.Connect(Timed.PatienceMs);
        ushort[] words = new ushort[2];
        Assert.True(link.ReadRegisters(1, ModbusTable.HoldingRegisters, 16, words, Timed.PatienceMs).IsGood);

        bool isTimeout = given.Status == ClientStatus.NeedMore;
        ModbusResult result = link.ReadRegisters(1, ModbusTable.HoldingRegisters, 16, words, isTimeout ? NothingMoreMs : Timed.PatienceMs);

        ModbusOutcome expected = isTimeout ? ModbusOutcome.Timeout : given.Outcome;
        Assert.Equal(expected, result.Outcome);
        Assert.Equal(given.Fault, link.LastFault);
        Assert.Equal(expected is ModbusOutcome.Good or ModbusOutcome.DeviceException, link.IsConnected);
        string counters = Counted.Text(
            (LinkCounter.Openings, 1), (LinkCounter.Requests, 2), (LinkCounter.Answers, 1 + Count(ModbusOutcome.Good)), (LinkCounter.Exceptions, Count(ModbusOutcome.DeviceException)),
            (LinkCounter.Timeouts, Count(ModbusOutcome.Timeout)), (LinkCounter.BadAnswers, Count(ModbusOutcome.BadAnswer)), (LinkCounter.LateAnswers, given.LateCount));
        Assert.Equal(counters, Outcomes(link.Counters));
        int Count(ModbusOutcome outcome) => expected == outcome ? 1 : 0;
    }

    [Fact]
    public void Nothing_of_a_cut_off_answer_is_left_when_the_link_is_opened_again()
    {
        using ScriptedPeer peer = new(
            static socket =>
            {
                ScriptedPeer.Request(socket);
                socket.Send(Hex.Bytes("00 01 00 00 00 07 01 03 04"));
            },
            static socket =>
            {
                byte[] request = ScriptedPeer.Request(socket);
                socket.Send([request[0], request[1], .. Hex.Bytes("00 00 00 07 01 03 04 11 22 33 44")]);
                ScriptedPeer.Request(socket); // until the client closes
            });
        using TcpModbusLink link = new(peer.EndPoint);
        ushort[] words = new ushort[2];
        link.Connect(Timed.PatienceMs);
        Assert.False(link.ReadRegisters(1, ModbusTable.HoldingRegisters, 16, words, Timed.PatienceMs).IsGood);
        link.Connect(Timed.PatienceMs);
        Assert.True(link.ReadRegisters(1, ModbusTable.HoldingRegisters, 16, words, Timed.PatienceMs).IsGood);
        Assert.Equal([0x1122, 0x3344], words);
    }

    [Fact]
    public void A_silent_peer_costs_the_time_out_and_closes_the_link()
    {
        using LoopbackServer loopback = new();
        loopback.Server.Silent = true;
        using TcpModbusLink link = new(loopback.EndPoint);
        Timed.AssertEndsAt(100, SlackMs, () => Assert.Equal(ModbusOutcome.Timeout, link.WriteRegister(1, 0, 1, 100).Outcome), () => link.Connect(Timed.PatienceMs));
        Assert.False(link.IsConnected);
        Assert.Equal(ModbusOutcome.NotConnected, link.WriteRegister(1, 0, 1, 100).Outcome);
        Assert.Equal(0, loopback.Device.CallCount);
    }

    [Fact]
    public void A_peer_that_drips_its_answer_gets_no_more_time_than_one_that_is_silent()
    {
        byte[] answer = Hex.Bytes("00 01 00 00 00 07 01 03 04 11 22 33 44");
        AssertEndsAt(200, SlackMs, socket => Drip(socket, answer, 30), static _ => { }, static link =>
            Assert.Equal(ModbusOutcome.Timeout, link.ReadRegisters(1, ModbusTable.HoldingRegisters, 16, new ushort[2], 200).Outcome));
    }

    [Fact]
    public void A_peer_that_floods_late_answers_gets_no_more_time_either()
    {
        long late = 0;

        // The flood itself keeps the cores busy.
        AssertEndsAt(150, 4 * SlackMs, Flood, static link => Assert.True(link.WriteRegister(1, 0, 1, Timed.PatienceMs).IsGood), link =>
        {
            Assert.Equal(ModbusOutcome.Timeout, link.WriteRegister(1, 0, 1, 150).Outcome);
            late = link.Counters[LinkCounter.LateAnswers];
        });
        Assert.True(late > 100, $"{late} late answers in the one that ended in time: it was no flood");
    }

    [Fact]
    public void A_refused_connection_says_so_at_once()
    {
        using Socket unused = new(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        unused.Bind(new IPEndPoint(IPAddress.Loopback, 0)); // bound but not listening: nobody else takes the port
        using TcpModbusLink link = new((IPEndPoint)unused.LocalEndPoint!);
        LinkOpenException e = Assert.Throws<LinkOpenException>(() => link.Connect(Timed.PatienceMs));
        Assert.Equal(LinkOpenFault.Refused, e.Fault);
        Assert.Equal(SocketError.ConnectionRefused, Assert.IsType<SocketException>(e.InnerException).SocketErrorCode);
        Assert.Contains("nothing listens on port", e.Message, StringComparison.Ordinal);
        Assert.False(link.IsConnected);
        Assert.Equal(ModbusOutcome.NotConnected, link.WriteCoil(1, 0, true, 100).Outcome);
        Assert.Equal("", link.Counters.ToString());
    }

    [Fact]
    public void A_connect_that_nobody_answers_ends_at_its_time_out()
    {
        // A listener whose queue is full drops further SYNs: the connect hangs like one to a dead host.
        using Socket listener = new(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        listener.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        listener.Listen(0);
        List<Socket> fillers = [.. Enumerable.Range(0, 4).Select(_ => new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp) { Blocking = false })];
        fillers.ForEach(f => Assert.ThrowsAny<SocketException>(() => f.Connect(listener.LocalEndPoint!)));
        using TcpModbusLink link = new((IPEndPoint)listener.LocalEndPoint!);
        Timed.AssertEndsAt(200, SlackMs, () => Assert.Equal(LinkOpenFault.TimedOut, Assert.Throws<LinkOpenException>(() => link.Connect(200)).Fault));
        fillers.ForEach(f => f.Dispose());
    }

    [Fact]
    public void A_peer_that_is_dead_after_the_connect_is_a_time_out()
    {
        using Socket listener = new(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        listener.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        listener.Listen(1); // the kernel completes the connect; nobody ever accepts or reads
        using TcpModbusLink link = new((IPEndPoint)listener.LocalEndPoint!);
        link.Connect(Timed.PatienceMs);
        Assert.Equal(ModbusOutcome.Timeout, link.WriteRegister(1, 0, 0, 100).Outcome);
        Assert.Equal(1, link.Counters[LinkCounter.Timeouts]);
    }

    [Fact]
    public void A_peer_that_closes_in_the_transaction_is_a_lost_connection()
    {
        using ScriptedPeer peer = new(socket => ScriptedPeer.Request(socket));
        using TcpModbusLink link = new(peer.EndPoint);
        link.Connect(Timed.PatienceMs);
        Assert.Equal(ModbusOutcome.ConnectionLost, link.WriteRegister(1, 0, 0, Timed.PatienceMs).Outcome);
        Assert.Equal("Requests 1, BrokenRequests 1, Openings 1", link.Counters.ToString());
        Assert.False(link.IsConnected);
    }

    [Fact]
    public void An_answer_that_comes_before_its_request_breaks_the_connection()
    {
        using ManualResetEventSlim sent = new();
        using ScriptedPeer peer = new(socket =>
        {
            socket.Send(Hex.Frame(1, 1, 3, 2, 0, 42));
            sent.Set();
            ScriptedPeer.Request(socket);
        });
        using TcpModbusLink link = new(peer.EndPoint);
        link.Connect(Timed.PatienceMs);
        sent.Wait(Timed.PatienceMs, TestContext.Current.CancellationToken);
        ushort[] words = [7];
        Assert.Equal(ModbusOutcome.BadAnswer, link.ReadRegisters(1, ModbusTable.HoldingRegisters, 0, words, Timed.PatienceMs).Outcome);
        Assert.Equal((7, AnswerFault.TransactionId), (words[0], link.LastFault));
    }

    [Fact]
    public void Dropped_connections_and_a_restarted_server_are_reached_again_on_the_same_port()
    {
        using LoopbackServer loopback = new();
        using TcpModbusLink link = loopback.Connect();
        Assert.True(link.WriteRegister(1, 0, 1, Timed.PatienceMs).IsGood);

        loopback.Server.DropConnections();
        Assert.Equal(ModbusOutcome.ConnectionLost, link.WriteRegister(1, 0, 2, Timed.PatienceMs).Outcome);
        link.Connect(Timed.PatienceMs);
        Assert.True(link.WriteRegister(1, 0, 3, Timed.PatienceMs).IsGood);

        loopback.Server.Stop();
        Assert.Equal(0, loopback.Server.ConnectionCount);
        Assert.Equal(ModbusOutcome.ConnectionLost, link.WriteRegister(1, 0, 4, Timed.PatienceMs).Outcome);
        Assert.Throws<LinkOpenException>(() => link.Connect(Timed.PatienceMs));
        loopback.Server.Start();
        link.Connect(Timed.PatienceMs);
        Assert.True(link.WriteRegister(1, 0, 5, Timed.PatienceMs).IsGood);
        Assert.Equal("Requests 5, Answers 3, BrokenRequests 2, Openings 3", Outcomes(link.Counters));
        Assert.Equal(5, loopback.Device.HoldingRegisters[0]);
    }

    private static string Outcomes(LinkCounters counters) => Counted.Text(new[]
    {
        LinkCounter.Openings, LinkCounter.Requests, LinkCounter.Answers, LinkCounter.Exceptions, LinkCounter.Timeouts, LinkCounter.BadAnswers, LinkCounter.BrokenRequests, LinkCounter.LateAnswers,
    }.Select(c => (c, counters[c])));

    private static void Drip(Socket socket, byte[] bytes, int everyMs)
    {
        ScriptedPeer.Request(socket);
        foreach (byte b in bytes)
        {
            socket.Send([b]);
            Thread.Sleep(everyMs);
        }
    }

    // Late answers without end.
    private static void Flood(Socket socket)
    {
        ScriptedPeer.Request(socket);
        socket.Send(Hex.Frame(1, 1, 6, 0, 0, 0, 1));
        ScriptedPeer.Request(socket);
        byte[] late = [.. Enumerable.Repeat(Hex.Frame(1, 1, 6, 0, 0, 0, 1), 50).SelectMany(f => f)];
        while (true)
        {
            socket.Send(late);
        }
    }

    // With a peer and a link of its own for each try.
    private static void AssertEndsAt(int timeMs, int slackMs, Action<Socket> script, Action<TcpModbusLink> before, Action<TcpModbusLink> action)
    {
        List<IDisposable> used = [];
        TcpModbusLink? link = null;
        try
        {
            Timed.AssertEndsAt(timeMs, slackMs, () => action(link!), () =>
            {
                ScriptedPeer peer = new(script);
                link = new TcpModbusLink(peer.EndPoint);
                used.AddRange([link, peer]); // the link goes first: some peers end only with it
                link.Connect(Timed.PatienceMs);
                before(link);
            });
        }
        finally
        {
            used.ForEach(static u => u.Dispose());
        }
    }
}
