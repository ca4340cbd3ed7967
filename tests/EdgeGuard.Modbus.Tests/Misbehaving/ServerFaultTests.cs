using System.Net.Sockets;
using EdgeGuard.Modbus.Server;
using EdgeGuard.Modbus.Tests.Rtu;
using EdgeGuard.Modbus.Tests.Transports;
using EdgeGuard.Modbus.Transports;

namespace EdgeGuard.Modbus.Tests.Misbehaving;

/// <summary>Every kind of fault in a request × every function, over a socket, over RTU inside TCP and over an RTU line: answers, counters, and whether the connection is closed.</summary>
public sealed class ServerFaultTests
{
    private const int PatienceMs = 3000;
    private const int StallMs = 60;

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
        using LoopbackServer loopback = new(
            new TcpModbusServerOptions { StalledFrameTimeoutMs = StallMs, IsRtuOverTcp = isRtu }, ServerFault.Device());
        Each(fault, function => OverSocket(fault, function, isRtu, loopback));
    }

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

    private static void OverSocket(ServerFault fault, FunctionCase function, bool isRtu, LoopbackServer loopback)
    {
        Reset(loopback.Device);
        ServerCounters before = loopback.Server.Counters;
        using Socket socket = new(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp) { NoDelay = true, ReceiveTimeout = PatienceMs };
        socket.Connect(loopback.EndPoint);
        foreach (byte[] piece in fault.Pieces(function))
        {
            socket.Send(piece);
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
    }

    private static byte UnitOf(ServerFault fault) => fault.Name == "unknown unit" ? (byte)77 : (byte)1;

    private static void OnLine(ServerFault fault, FunctionCase function, SerialModbusServer server, FakeLine line)
    {
        ServerCounters before = server.Counters;
        line.Written.Clear();
        foreach (byte[] piece in fault.Pieces(function))
        {
            line.Queue(0, piece);
        }

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
