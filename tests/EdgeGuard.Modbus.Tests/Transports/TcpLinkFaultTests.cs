using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Modbus.Tests.Client;
using EdgeGuard.Modbus.Transports;

namespace EdgeGuard.Modbus.Tests.Transports;

public sealed class TcpLinkFaultTests
{
    private const int SlackMs = 50;

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
        link.Connect(1000);
        ushort[] words = new ushort[2];
        Assert.True(link.ReadRegisters(1, ModbusTable.HoldingRegisters, 16, words, 1000).IsGood);

        bool isTimeout = given.Status == ClientStatus.NeedMore;
        ModbusResult result = link.ReadRegisters(1, ModbusTable.HoldingRegisters, 16, words, isTimeout ? 150 : 2000);

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
    public void A_silent_peer_costs_the_time_out_and_closes_the_link()
    {
        using LoopbackServer loopback = new();
        loopback.Server.Silent = true;
        List<long> elapsedMs = [];
        for (int i = 0; i < 5; i++)
        {
            using TcpModbusLink link = loopback.Connect();
            elapsedMs.Add(Measure(() =>
                Assert.Equal(ModbusOutcome.Timeout, link.WriteRegister(1, 0, 1, 100).Outcome)));
            Assert.False(link.IsConnected);
            Assert.Equal(ModbusOutcome.NotConnected, link.WriteRegister(1, 0, 1, 100).Outcome);
        }

        AssertBounded(elapsedMs, 100);
        Assert.Equal(0, loopback.Device.CallCount);
    }

    [Fact]
    public void A_peer_that_drips_its_answer_gets_no_more_time_than_one_that_is_silent()
    {
        byte[] answer = Hex.Bytes("00 01 00 00 00 07 01 03 04 11 22 33 44");
        List<long> elapsedMs = [];
        for (int i = 0; i < 3; i++)
        {
            using ScriptedPeer peer = new(socket => Drip(socket, answer, 30));
            using TcpModbusLink link = new(peer.EndPoint);
            link.Connect(1000);
            elapsedMs.Add(Measure(() => Assert.Equal(
                ModbusOutcome.Timeout, link.ReadRegisters(1, ModbusTable.HoldingRegisters, 16, new ushort[2], 200).Outcome)));
        }

        AssertBounded(elapsedMs, 200);
    }

    [Fact]
    public void A_peer_that_floods_late_answers_gets_no_more_time_either()
    {
        using ScriptedPeer peer = new(socket =>
        {
            ScriptedPeer.Request(socket);
            socket.Send(Hex.Frame(1, 1, 6, 0, 0, 0, 1));
            ScriptedPeer.Request(socket);
            byte[] late = [.. Enumerable.Repeat(Hex.Frame(1, 1, 6, 0, 0, 0, 1), 50).SelectMany(f => f)];
            while (true)
            {
                socket.Send(late);
            }
        });
        using TcpModbusLink link = new(peer.EndPoint);
        link.Connect(1000);
        Assert.True(link.WriteRegister(1, 0, 1, 1000).IsGood);
        long elapsedMs = Measure(() => Assert.Equal(ModbusOutcome.Timeout, link.WriteRegister(1, 0, 1, 150).Outcome));
        Assert.InRange(elapsedMs, 149, 150 + (4 * SlackMs)); // the flood itself keeps both cores busy
        Assert.True(link.Counters[LinkCounter.LateAnswers] > 100);
    }

    [Fact]
    public void A_refused_connection_says_so_at_once()
    {
        using Socket unused = new(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        unused.Bind(new IPEndPoint(IPAddress.Loopback, 0)); // bound but not listening: nobody else takes the port
        using TcpModbusLink link = new((IPEndPoint)unused.LocalEndPoint!);
        LinkOpenException e = Assert.Throws<LinkOpenException>(() => link.Connect(1000));
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

        List<long> elapsedMs = [];
        for (int i = 0; i < 3; i++)
        {
            elapsedMs.Add(Measure(() => Assert.Equal(
                LinkOpenFault.TimedOut, Assert.Throws<LinkOpenException>(() => link.Connect(200)).Fault)));
        }

        fillers.ForEach(f => f.Dispose());
        AssertBounded(elapsedMs, 200);
    }

    [Fact]
    public void A_peer_that_is_dead_after_the_connect_is_a_time_out()
    {
        using Socket listener = new(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        listener.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        listener.Listen(1); // the kernel completes the connect; nobody ever accepts or reads
        using TcpModbusLink link = new((IPEndPoint)listener.LocalEndPoint!);
        link.Connect(1000);
        Assert.Equal(ModbusOutcome.Timeout, link.WriteRegister(1, 0, 0, 100).Outcome);
        Assert.Equal(1, link.Counters[LinkCounter.Timeouts]);
    }

    [Fact]
    public void A_peer_that_closes_in_the_transaction_is_a_lost_connection()
    {
        using ScriptedPeer peer = new(socket => ScriptedPeer.Request(socket));
        using TcpModbusLink link = new(peer.EndPoint);
        link.Connect(1000);
        Assert.Equal(ModbusOutcome.ConnectionLost, link.WriteRegister(1, 0, 0, 1000).Outcome);
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
        link.Connect(1000);
        sent.Wait(1000, TestContext.Current.CancellationToken);
        ushort[] words = [7];
        Assert.Equal(ModbusOutcome.BadAnswer, link.ReadRegisters(1, ModbusTable.HoldingRegisters, 0, words, 1000).Outcome);
        Assert.Equal((7, AnswerFault.TransactionId), (words[0], link.LastFault));
    }

    [Fact]
    public void Dropped_connections_and_a_restarted_server_are_reached_again_on_the_same_port()
    {
        using LoopbackServer loopback = new();
        using TcpModbusLink link = loopback.Connect();
        Assert.True(link.WriteRegister(1, 0, 1, 1000).IsGood);

        loopback.Server.DropConnections();
        Assert.Equal(ModbusOutcome.ConnectionLost, link.WriteRegister(1, 0, 2, 1000).Outcome);
        link.Connect(1000);
        Assert.True(link.WriteRegister(1, 0, 3, 1000).IsGood);

        loopback.Server.Stop();
        Assert.Equal(0, loopback.Server.ConnectionCount);
        Assert.Equal(ModbusOutcome.ConnectionLost, link.WriteRegister(1, 0, 4, 1000).Outcome);
        Assert.Throws<LinkOpenException>(() => link.Connect(1000));
        loopback.Server.Start();
        link.Connect(1000);
        Assert.True(link.WriteRegister(1, 0, 5, 1000).IsGood);
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

    private static long Measure(Action action)
    {
        long start = Stopwatch.GetTimestamp();
        action();
        return (long)Stopwatch.GetElapsedTime(start).TotalMilliseconds;
    }

    /// <summary>Never early; the median within the slack, because a busy machine may delay any single wake-up.</summary>
    private static void AssertBounded(List<long> elapsedMs, int timeoutMs)
    {
        elapsedMs.Sort();
        Assert.True(elapsedMs[0] >= timeoutMs - 1, $"early: {elapsedMs[0]} ms");
        Assert.True(elapsedMs[elapsedMs.Count / 2] <= timeoutMs + SlackMs, $"late: {string.Join(", ", elapsedMs)} ms");
    }
}
