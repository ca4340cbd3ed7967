using System.Diagnostics;
using System.Net.Sockets;
using EdgeGuard.Modbus.Server;
using EdgeGuard.Modbus.Tests.Rtu;
using EdgeGuard.Modbus.Tests.Transports;
using EdgeGuard.Modbus.Transports;

namespace EdgeGuard.Modbus.Tests.Misbehaving;

/// <summary>Every kind of fault in a request × every function, over a socket, over RTU inside TCP and over an RTU line: answers, counters, and whether the connection is closed.</summary>
public sealed class ServerFaultTests
{
    private const int PatienceMs = Timed.PatienceMs;
    private const int StallMs = 60; // where the end of a frame does not come
    private const int PauseMaxMs = 10; // half of the silence that ends a frame of RTU in TCP
    private const int TriesMax = 100;

    public static TheoryData<string> TcpNames => [.. ServerFault.Tcp.Select(f => f.Name)];

    public static TheoryData<string> RtuNames => [.. ServerFault.Rtu.Select(f => f.Name)];

    [Theory]
    [MemberData(nameof(TcpNames))]
    public void A_wrong_request_over_TCP_is_answered_and_counted_for_every_function(string name)
    {
        ServerFault fault = ServerFault.Tcp.Single(f => f.Name == name);
        OverSocket(fault, isRtu: false);
    }

    [Theory]
    [MemberData(nameof(RtuNames))]
    public void A_wrong_request_in_RTU_over_TCP_is_answered_and_counted_for_every_function(string name)
    {
        ServerFault fault = ServerFault.Rtu.Single(f => f.Name == name);
        OverSocket(fault, isRtu: true);
    }

    [Theory]
    [MemberData(nameof(RtuNames))]
    public void A_wrong_request_on_an_RTU_line_is_answered_and_counted_for_every_function(string name)
    {
        ServerFault fault = ServerFault.Rtu.Single(f => f.Name == name);
        FakeLine line = new();
        DiagnosticMemoryDevice device = ServerFault.Device();
        using SerialModbusServer server = new(new SerialLineOptions { PortName = "fake" }, line, new Dictionary<byte, IModbusDevice> { [1] = device });
        server.Start();
        Each(fault, function =>
        {
            Reset(device);
            OnLine(fault, function, server, line);
        });
    }

    private static void OverSocket(ServerFault fault, bool isRtu)
    {
        LoopbackServer loopback = Open(fault, isRtu);
        try
        {
            Each(fault, function =>
            {
                for (int tries = 1; !TryOverSocket(fault, function, isRtu, loopback); tries++)
                {
                    Assert.True(tries < TriesMax, $"function {function.Code:X2}: each frame was sent with a pause");
                    loopback.Dispose();
                    loopback = Open(fault, isRtu);
                }
            });
        }
        finally
        {
            loopback.Dispose();
        }
    }

    // Only where the rest of a frame never comes may the server give up waiting for it soon.
    private static LoopbackServer Open(ServerFault fault, bool isRtu) => new(
        new TcpModbusServerOptions { StalledFrameTimeoutMs = fault.IsClosed ? StallMs : PatienceMs, IsRtuOverTcp = isRtu }, ServerFault.Device());

    private static void Each(ServerFault fault, Action<FunctionCase> check)
    {
        int count = 0;
        foreach (FunctionCase function in FunctionCase.All)
        {
            if (fault.Pieces(function).Length > 0)
            {
                check(function);
                count++;
            }
        }

        Assert.True(count >= 5, "the fault befalls too few functions to prove anything");
    }

    /// <summary>False when the machine put a pause into the frame, which ends a frame of RTU: then it has to be sent to a server of its own again.</summary>
    private static bool TryOverSocket(ServerFault fault, FunctionCase function, bool isRtu, LoopbackServer loopback)
    {
        Reset(loopback.Device);
        ServerCounters before = loopback.Server.Counters;
        using Socket socket = new(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp) { NoDelay = true, ReceiveTimeout = PatienceMs };
        socket.Connect(loopback.EndPoint);
        byte[][] pieces = fault.Pieces(function);
        long start = Stopwatch.GetTimestamp();
        foreach (byte[] piece in pieces)
        {
            socket.Send(piece);
        }

        if (isRtu && pieces.Length > 1 && Stopwatch.GetElapsedTime(start).TotalMilliseconds > PauseMaxMs)
        {
            return false;
        }

        string[] answers = fault.Answers(function);
        byte[] expected = [.. answers.SelectMany(a => isRtu ? RtuFrame.Of(1, a) : Hex.Frame(9, UnitOf(fault), Hex.Bytes(a)))];
        byte[] received = new byte[expected.Length];
        for (int have = 0; have < received.Length;)
        {
            int got = socket.Receive(received.AsSpan(have));
            Assert.True(got > 0, $"function {function.Code:X2}: closed in place of an answer");
            have += got;
        }

        Assert.Equal($"{function.Code:X2}: {Hex.Text(expected)}", $"{function.Code:X2}: {Hex.Text(received)}");
        if (fault.IsClosed)
        {
            Assert.Equal(0, socket.Receive(new byte[1]));
        }

        AwaitCounters(fault, function, before, () => loopback.Server.Counters);
        Assert.True(SpinWait.SpinUntil(
            () => loopback.Server.Counters.ConnectionsClosed - before.ConnectionsClosed == (fault.IsClosed ? 1 : 0), PatienceMs));
        return true;
    }

    private static byte UnitOf(ServerFault fault) => fault.Name == "unknown unit" ? (byte)77 : (byte)1;

    private static void OnLine(ServerFault fault, FunctionCase function, SerialModbusServer server, FakeLine line)
    {
        ServerCounters before = server.Counters;
        line.Written.Clear();
        line.QueueAll(fault.Pieces(function));
        string[] expected = [.. fault.Answers(function).Select(a => Hex.Text(RtuFrame.Of(1, a)))];
        AwaitCounters(fault, function, before, () => server.Counters);
        SpinWait.SpinUntil(() => line.WrittenCount >= expected.Length, PatienceMs);
        Assert.Equal(expected, line.Written.Select(w => Hex.Text(w)));
    }

    /// <summary>A write of the function before must not show in the answer of the next.</summary>
    private static void Reset(MemoryDevice device)
    {
        DiagnosticMemoryDevice fresh = ServerFault.Device();
        fresh.HoldingRegisters.CopyTo(device.HoldingRegisters, 0);
        fresh.Coils.CopyTo(device.Coils, 0);
    }

    private static void AwaitCounters(ServerFault fault, FunctionCase function, ServerCounters before, Func<ServerCounters> counters)
    {
        ServerCounters expected = fault.Counters;
        bool isReached = SpinWait.SpinUntil(() => Same(counters()), PatienceMs);
        Assert.True(isReached, $"function {function.Code:X2}: {counters()}, expected {expected}");

        bool Same(ServerCounters c) =>
            (c.Answered - before.Answered, c.Refused - before.Refused, c.Discarded - before.Discarded, c.Broadcasts - before.Broadcasts, c.Malformed - before.Malformed)
            == (expected.Answered, expected.Refused, expected.Discarded, expected.Broadcasts, expected.Malformed);
    }
}
