using EdgeGuard.Modbus.Client;
using EdgeGuard.Modbus.Pdu;
using EdgeGuard.Modbus.Tests.Rtu;
using EdgeGuard.Modbus.Tests.Transports;
using EdgeGuard.Modbus.Transports;
using Xunit.Sdk;

namespace EdgeGuard.Modbus.Tests.Misbehaving;

/// <summary>Every kind of fault in an answer × every function, over a socket and over an RTU line: outcome, counters, and whether the link stays open.</summary>
public sealed class ClientFaultTests
{
    private const int LongMs = Timed.PatienceMs;

    private const int ShortMs = 25; // where nothing more comes

    public static TheoryData<string> TcpNames => [.. ClientFault.Tcp.Select(f => f.Name)];

    public static TheoryData<string> ZeroNames => [.. ClientFault.TcpZero.Select(f => f.Name)];

    public static TheoryData<string> RtuNames => [.. ClientFault.Rtu.Select(f => f.Name)];

    [Theory]
    [MemberData(nameof(TcpNames))]
    public void A_wrong_answer_over_TCP_is_judged_and_counted_for_every_function(string name) =>
        Each(ClientFault.Tcp.Single(f => f.Name == name), (fault, function, shortMs) => OverTcp(fault, function, acceptsZero: false, shortMs));

    [Theory]
    [MemberData(nameof(ZeroNames))]
    public void A_transaction_id_of_0_is_taken_by_option_and_the_rest_is_still_judged(string name) =>
        Each(ClientFault.TcpZero.Single(f => f.Name == name), (fault, function, shortMs) => OverTcp(fault, function, acceptsZero: true, shortMs));

    [Theory]
    [MemberData(nameof(RtuNames))]
    public void A_wrong_answer_on_an_RTU_line_is_judged_and_counted_for_every_function(string name) =>
        Each(ClientFault.Rtu.Single(f => f.Name == name), OverRtu);

    [Fact]
    public void Every_function_of_the_protocol_is_in_the_table_and_every_counter_is_moved_by_it()
    {
        Assert.Equal(Enum.GetValues<FunctionCode>().Except([FunctionCode.None]), FunctionCase.All.Select(f => (FunctionCode)f.Code));
        ClientFault[] all = [.. ClientFault.Tcp, .. ClientFault.TcpZero, .. ClientFault.Rtu];
        LinkCounter[] moved = [LinkCounter.Openings, LinkCounter.Requests, .. all.SelectMany(f => f.Counters ?? []), .. all.Select(f => Of(f.Outcome))];
        Assert.Equal([LinkCounter.Broadcasts], Enum.GetValues<LinkCounter>().Except(moved)); // no misbehaviour: RtuLinkTests
    }

    private static void Each(ClientFault fault, Action<ClientFault, FunctionCase, int> check)
    {
        int count = 0;
        foreach (FunctionCase function in FunctionCase.All)
        {
            if (fault.Pieces(function).Length > 0)
            {
                CheckPatiently(fault, function, check);
                count++;
            }
        }

        Assert.True(count >= 5, "the fault befalls too few functions to prove anything");
    }

    // What is to come before a short time is over, or in pieces, a busy machine may hold up: that is tried again with more time.
    private static void CheckPatiently(ClientFault fault, FunctionCase function, Action<ClientFault, FunctionCase, int> check)
    {
        bool isTimed = fault.Outcome == ModbusOutcome.Timeout || fault.Before != RequestBefore.Answered || fault.Counters?.Contains(LinkCounter.SplitAnswers) == true;
        foreach (int shortMs in isTimed ? (int[])[ShortMs, 10 * ShortMs, 50 * ShortMs] : [])
        {
            try
            {
                check(fault, function, shortMs);
                return;
            }
            catch (XunitException)
            {
                // Whether it was the machine shows when there is more time.
            }
        }

        check(fault, function, 400 * ShortMs);
    }

    private static void OverTcp(ClientFault fault, FunctionCase function, bool acceptsZero, int shortMs)
    {
        using ScriptedPeer peer = new(socket =>
        {
            ScriptedPeer.Request(socket);
            socket.Send(Hex.Frame(acceptsZero ? 0 : 1, 1, function.AnswerPdu));
            ScriptedPeer.Request(socket);
            foreach (byte[] piece in fault.Pieces(function))
            {
                Thread.Sleep(1);
                socket.Send(piece);
            }

            if (!fault.Closes)
            {
                ScriptedPeer.Request(socket); // until the client closes
            }
        });
        using TcpModbusLink link = new(peer.EndPoint, new TcpModbusLinkOptions { AcceptsZeroTransactionId = acceptsZero });
        link.Connect(LongMs);
        Assert.True(function.Ask(link, 1, LongMs).IsGood, $"function {function.Code:X2}: the answer before the fault");
        ModbusOutcome outcome = function.Ask(link, 1, fault.Outcome == ModbusOutcome.Timeout ? shortMs : LongMs).Outcome;

        AssertCounted(fault, function, outcome, link.Counters, acceptsZero ? [LinkCounter.ZeroTransactionIds] : []);
        bool staysOpen = outcome is ModbusOutcome.Good or ModbusOutcome.DeviceException;
        Assert.True(staysOpen == link.IsConnected, $"function {function.Code:X2}: open {link.IsConnected}");
    }

    private static void OverRtu(ClientFault fault, FunctionCase function, int shortMs)
    {
        FakeLine line = new();
        int count = 0;
        line.OnWrite = (_, _) =>
        {
            byte[][] first = fault.Before == RequestBefore.Answered ? [RtuFrame.Of(1, function.AnswerPdu), .. fault.Stray(function)] : [];
            line.IsLost = fault.Closes && count > 0;
            byte[][] pieces = count++ == 0 ? first : fault.Pieces(function);
            foreach (byte[] piece in pieces.Where(p => p.Length > 0))
            {
                line.Queue(0, piece);
            }
        };
        using SerialModbusLink link = new(new SerialLineOptions { PortName = "fake" }, line, new RtuLinkOptions { ResyncSilenceMs = 5 });
        link.Connect(LongMs);
        ModbusOutcome before = fault.Before switch
        {
            RequestBefore.Answered => function.Ask(link, 1, LongMs).Outcome,
            RequestBefore.OtherUnitSilent => function.Ask(link, 2, shortMs).Outcome,
            RequestBefore.SameSilent => function.Ask(link, 1, shortMs).Outcome,
            _ => function.Other.Ask(link, 1, shortMs).Outcome,
        };
        Assert.Equal(fault.Before == RequestBefore.Answered ? ModbusOutcome.Good : ModbusOutcome.Timeout, before);
        ModbusOutcome outcome = function.Ask(link, 1, fault.Outcome == ModbusOutcome.Timeout ? shortMs : LongMs).Outcome;
        AssertCounted(fault, function, outcome, link.Counters, []);
        Assert.True(link.IsConnected != fault.Closes, "a line stays open for the other units");
    }

    private static void AssertCounted(ClientFault fault, FunctionCase function, ModbusOutcome outcome, LinkCounters counters, LinkCounter[] before)
    {
        Assert.True(outcome == fault.Outcome, $"function {function.Code:X2}: {outcome}, expected {fault.Outcome}");
        LinkCounter[] moved = [LinkCounter.Openings, LinkCounter.Requests, LinkCounter.Requests, OfBefore(fault), Of(outcome), .. before, .. fault.Counters ?? []];

        // How the kernel cuts a stream is its affair, so these two are counted but not promised, unless the fault is about them.
        LinkCounter[] free = [.. new[] { LinkCounter.SplitAnswers, LinkCounter.GluedAnswers }.Except(fault.Counters ?? [])];
        string expected = Counted.Text(moved.Select(c => (c, 1L)));
        string found = counters.Without(free);
        Assert.True(expected == found, $"function {function.Code:X2}:\n{found}, expected\n{expected}");
    }

    private static LinkCounter OfBefore(ClientFault fault) => fault.Before == RequestBefore.Answered ? LinkCounter.Answers : LinkCounter.Timeouts;

    private static LinkCounter Of(ModbusOutcome outcome) => outcome switch
    {
        ModbusOutcome.Good => LinkCounter.Answers,
        ModbusOutcome.DeviceException => LinkCounter.Exceptions,
        ModbusOutcome.Timeout => LinkCounter.Timeouts,
        ModbusOutcome.ConnectionLost => LinkCounter.BrokenRequests,
        _ => LinkCounter.BadAnswers,
    };
}
