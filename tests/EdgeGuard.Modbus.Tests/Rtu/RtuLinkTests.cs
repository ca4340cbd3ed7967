using System.Diagnostics;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Modbus.Transports;

namespace EdgeGuard.Modbus.Tests.Rtu;

public sealed class RtuLinkTests : IDisposable
{
    private const int TimeoutMs = Timed.PatienceMs;
    private readonly FakeLine _line = new();
    private readonly ushort[] _words = [7, 7];
    private SerialModbusLink? _link;

    public void Dispose() => _link?.Dispose();

    [Fact]
    public void A_read_goes_out_and_its_answer_comes_back_in_any_pieces()
    {
        byte[] answer = RtuFrame.Of(1, "03 04 11 22 33 44");
        _line.OnWrite = (line, _) =>
        {
            line.Queue(1, answer[..1]);
            line.Queue(1, answer[1..5]);
            line.Queue(1, answer[5..]);
        };
        SerialModbusLink link = Open();
        Assert.True(Read(link).IsGood);
        Assert.Equal([0x1122, 0x3344], _words);
        Assert.Equal(RtuFrame.Of(1, "03 00 10 00 02"), _line.Written[0]);
        Assert.Equal("Requests 1, Answers 1, SplitAnswers 1, Openings 1", link.Counters.ToString());
    }

    [Fact]
    public void A_silent_unit_costs_its_time_out_and_the_line_stays_open_for_the_others()
    {
        _line.OnWrite = (line, request) =>
        {
            if (request[0] == 2)
            {
                line.Queue(0, RtuFrame.Of(2, "03 04 00 01 00 02"));
            }
        };
        SerialModbusLink link = Open();
        Assert.Equal(ModbusOutcome.Timeout, Read(link, timeoutMs: 60).Outcome);
        Assert.True(link.IsConnected);
        Assert.True(link.ReadRegisters(2, ModbusTable.HoldingRegisters, 16, _words, TimeoutMs).IsGood);
        Assert.Equal([1, 2], _words);
    }

    [Fact]
    public void A_late_answer_is_never_taken_for_that_of_a_later_read()
    {
        // Asked for register 16, answered long after the time-out; register 32 must not get it.
        _line.OnWrite = (line, request) =>
        {
            if (request[3] == 32)
            {
                line.Queue(0, RtuFrame.Of(1, "03 04 00 05 00 06"));
            }
        };
        SerialModbusLink link = Open(new RtuLinkOptions { LateAnswerGuardMs = TimeoutMs / 3 });
        Assert.Equal(ModbusOutcome.Timeout, Read(link, timeoutMs: 60).Outcome);
        _line.Queue(300, RtuFrame.Of(1, "03 04 AA AA AA AA"));
        Assert.True(link.ReadRegisters(1, ModbusTable.HoldingRegisters, 32, _words, TimeoutMs).IsGood);
        Assert.Equal([5, 6], _words);
        Assert.Equal((1, 0), (link.Counters[LinkCounter.LateAnswers], link.Counters[LinkCounter.DuplicateAnswers]));
    }

    [Fact]
    public void A_read_of_another_count_needs_no_distance_and_tells_the_late_answer_by_its_length()
    {
        _line.OnWrite = (line, request) =>
        {
            if (request[5] == 1)
            {
                line.Queue(0, RtuFrame.Of(1, "03 04 AA AA AA AA"));
                line.Queue(0, RtuFrame.Of(1, "03 02 00 09"));
            }
        };
        SerialModbusLink link = Open(new RtuLinkOptions { LateAnswerGuardMs = 60_000 });
        Assert.Equal(ModbusOutcome.Timeout, Read(link, timeoutMs: 60).Outcome);
        Assert.True(link.ReadRegisters(1, ModbusTable.HoldingRegisters, 32, _words.AsSpan(0, 1), TimeoutMs).IsGood);
        Assert.Equal([9, 7], _words);
        Assert.Equal((1, 0), (link.Counters[LinkCounter.LateAnswers], link.Counters[LinkCounter.DeferredRequests]));
    }

    [Fact]
    public void The_late_answer_of_one_unit_is_dropped_while_another_is_asked()
    {
        _line.OnWrite = (line, request) =>
        {
            if (request[0] == 2)
            {
                line.Queue(0, RtuFrame.Of(1, "03 04 AA AA AA AA"));
                line.Queue(0, RtuFrame.Of(2, "03 04 00 01 00 02"));
            }
        };
        SerialModbusLink link = Open();
        Assert.Equal(ModbusOutcome.Timeout, Read(link, timeoutMs: 60).Outcome);
        Assert.True(link.ReadRegisters(2, ModbusTable.HoldingRegisters, 16, _words, TimeoutMs).IsGood);
        Assert.Equal([1, 2], _words);
        Assert.Equal("Requests 2, Answers 1, Timeouts 1, LateAnswers 1, Openings 1", link.Counters.Without(LinkCounter.GluedAnswers));
    }

    [Fact]
    public void A_read_that_would_be_too_near_to_an_owed_answer_is_not_sent()
    {
        // With room for a busy machine: more than half of the time-out must still be the guard's.
        const int GuardMs = 1_000;
        SerialModbusLink link = Open(new RtuLinkOptions { LateAnswerGuardMs = GuardMs });
        Assert.Equal(ModbusOutcome.Timeout, Read(link, timeoutMs: 100).Outcome);
        long start = Stopwatch.GetTimestamp();
        Assert.Equal(ModbusOutcome.Timeout, Read(link, timeoutMs: GuardMs).Outcome);
        Assert.InRange(Stopwatch.GetElapsedTime(start).TotalMilliseconds, 0, 0.9 * GuardMs); // at once: the others wait for the line
        Assert.Single(_line.Written);
        Assert.Equal("Requests 2, Timeouts 2, DeferredRequests 1, Openings 1", link.Counters.ToString());

        Thread.Sleep(GuardMs + 20);
        Read(link, timeoutMs: 100);
        Assert.Equal(2, _line.Written.Count);
    }

    [Fact]
    public void A_second_copy_of_an_answer_is_known_as_one_before_the_next_request()
    {
        _line.OnWrite = (line, request) =>
        {
            byte[] answer = RtuFrame.Of(1, request[3] == 16 ? "03 04 AA AA AA AA" : "03 04 00 05 00 06");
            line.Queue(0, request[3] == 16 ? [.. answer, .. answer] : answer);
        };
        SerialModbusLink link = Open(new RtuLinkOptions { ResyncSilenceMs = 1000 });
        link.ReadRegisters(1, ModbusTable.HoldingRegisters, 32, _words, TimeoutMs);
        Assert.True(Read(link).IsGood);
        Assert.True(link.ReadRegisters(1, ModbusTable.HoldingRegisters, 32, _words, 950).IsGood); // no second of silence was needed
        Assert.Equal([5, 6], _words);
        Assert.Equal("Requests 3, Answers 3, LateAnswers 1, DuplicateAnswers 1, GluedAnswers 1, Openings 1", link.Counters.ToString());
    }

    [Fact]
    public void A_line_that_never_falls_silent_costs_the_time_out_and_nothing_is_sent()
    {
        SerialModbusLink link = Open();
        for (int i = 0; i < 2_000; i++) // ten seconds of it
        {
            _line.Queue(5, 0xFF);
        }

        Assert.Equal(ModbusOutcome.Timeout, Read(link, timeoutMs: 100).Outcome);
        Assert.Empty(_line.Written);
        Assert.Equal("Requests 1, Timeouts 1, DeferredRequests 1, Openings 1", link.Counters.Without(LinkCounter.NoiseBytes));
        Assert.True(link.Counters[LinkCounter.NoiseBytes] > 0);
    }

    [Fact]
    public void After_another_units_answer_the_right_one_is_still_owed()
    {
        _line.OnWrite = (line, _) => line.Queue(0, RtuFrame.Of(9, "03 04 AA AA AA AA"));
        SerialModbusLink link = Open();
        Assert.Equal(ModbusOutcome.BadAnswer, Read(link).Outcome);
        Assert.Equal(ModbusOutcome.Timeout, Read(link).Outcome);
        Assert.Single(_line.Written);
        Assert.Equal("Requests 2, Timeouts 1, BadAnswers 1, WrongUnit 1, DeferredRequests 1, Openings 1", link.Counters.ToString());
    }

    [Fact]
    public void A_write_to_a_unit_that_owes_a_read_goes_out_at_once_and_the_late_answer_is_dropped()
    {
        _line.OnWrite = (line, request) =>
        {
            if (request[1] == 6)
            {
                line.Queue(5, RtuFrame.Of(1, "03 04 AA AA AA AA"));
                line.Queue(5, request);
            }
        };
        SerialModbusLink link = Open(new RtuLinkOptions { LateAnswerGuardMs = 60_000 }); // a read would have to wait so long
        Assert.Equal(ModbusOutcome.Timeout, Read(link, timeoutMs: 60).Outcome);
        Assert.True(link.WriteRegister(1, 3, 0, TimeoutMs).IsGood);
        Assert.Equal(1, link.Counters[LinkCounter.LateAnswers]);
    }

    [Fact]
    public void The_late_echo_of_another_write_is_not_that_of_this_one()
    {
        _line.OnWrite = (line, request) =>
        {
            if (request[5] == 2)
            {
                line.Queue(0, RtuFrame.Of(1, "06 00 03 00 01"));
                line.Queue(0, request);
            }
        };
        SerialModbusLink link = Open();
        Assert.Equal(ModbusOutcome.Timeout, link.WriteRegister(1, 3, 1, 60).Outcome);
        Assert.True(link.WriteRegister(1, 3, 2, TimeoutMs).IsGood);
        Assert.Equal((2, 1, 1), (link.Counters[LinkCounter.Requests], link.Counters[LinkCounter.Answers], link.Counters[LinkCounter.LateAnswers]));
    }

    [Fact]
    public void Without_an_owed_answer_a_wrong_echo_is_a_bad_answer()
    {
        _line.OnWrite = (line, _) => line.Queue(0, RtuFrame.Of(1, "06 00 03 00 01"));
        SerialModbusLink link = Open();
        Assert.Equal(ModbusOutcome.BadAnswer, link.WriteRegister(1, 3, 2, TimeoutMs).Outcome);
        Assert.Equal(AnswerFault.Echo, link.LastFault);
        Assert.True(link.IsConnected);
        Assert.Equal("Requests 1, BadAnswers 1, WrongEcho 1, Openings 1", link.Counters.ToString());
    }

    [Fact]
    public void After_a_wrong_CRC_the_line_must_be_silent_before_the_next_request()
    {
        int count = 0;
        _line.OnWrite = (line, _) =>
        {
            count++;
            byte[] answer = RtuFrame.Of(1, "03 04 11 22 33 44");
            answer[4] ^= (byte)(count == 1 ? 1 : 0);
            line.Queue(0, answer);
            if (count == 1)
            {
                line.Queue(10, 0xFF, 0x00, 0x13); // a tail of noise
            }
        };
        SerialModbusLink link = Open();
        Assert.Equal(ModbusOutcome.BadAnswer, Read(link).Outcome);
        Assert.Equal(AnswerFault.Crc, link.LastFault);
        Assert.True(Read(link).IsGood);
        Assert.Equal("Requests 2, Answers 1, BadAnswers 1, ChecksumErrors 1, NoiseBytes 3, Openings 1", link.Counters.ToString());
    }

    [Fact]
    public void A_broadcast_is_sent_and_nobody_is_waited_for()
    {
        const int TurnaroundMs = 500; // less than what a busy machine needs to send a frame would prove nothing
        SerialModbusLink link = Open(new RtuLinkOptions { TurnaroundMs = TurnaroundMs });
        long start = Stopwatch.GetTimestamp();
        Assert.Equal(ModbusOutcome.BroadcastSent, link.WriteRegister(0, 5, 9, TimeoutMs).Outcome);
        Assert.InRange(Stopwatch.GetElapsedTime(start).TotalMilliseconds, 0, TurnaroundMs - 1);
        Assert.Equal(RtuFrame.Of(0, "06 00 05 00 09"), _line.Written[0]);

        // The devices get their turnaround before the next request.
        _line.OnWrite = (line, request) => line.Queue(0, request);
        Assert.True(link.WriteRegister(1, 5, 9, TimeoutMs).IsGood);
        Assert.True(Stopwatch.GetElapsedTime(start).TotalMilliseconds >= TurnaroundMs - 1);
        Assert.Equal("Requests 2, Answers 1, Broadcasts 1, Openings 1", link.Counters.ToString());
    }

    [Fact]
    public void A_broadcast_read_makes_no_sense_and_is_refused()
    {
        SerialModbusLink link = Open();
        Assert.Throws<ArgumentOutOfRangeException>(() => link.ReadRegisters(0, ModbusTable.HoldingRegisters, 0, _words, TimeoutMs));
        Assert.Throws<ArgumentOutOfRangeException>(() => link.ReadWriteRegisters(0, 0, _words, 0, [1], TimeoutMs));
        Assert.Empty(_line.Written);
    }

    [Fact]
    public void An_adapter_that_hears_itself_is_no_answer_of_the_device()
    {
        bool answers = true;
        _line.OnWrite = (line, request) => line.Queue(0, answers ? [.. request, .. request] : request);
        SerialModbusLink link = Open(new RtuLinkOptions { HasLocalEcho = true });
        Assert.True(link.WriteRegister(1, 3, 2, TimeoutMs).IsGood);
        answers = false;
        Assert.Equal(ModbusOutcome.Timeout, link.WriteRegister(1, 3, 2, 60).Outcome);

        _line.OnWrite = (line, request) => line.Queue(0, request[0], 0x55, 0x55, 0x55, 0x55, 0x55, 0x55, 0x55);
        Assert.Equal(ModbusOutcome.BadAnswer, link.WriteRegister(1, 3, 3, TimeoutMs).Outcome); // two talked at once
    }

    [Fact]
    public void A_lost_line_is_told_and_closed()
    {
        SerialModbusLink link = Open();
        _line.IsLost = true;
        Assert.Equal(ModbusOutcome.ConnectionLost, Read(link).Outcome);
        Assert.False(link.IsConnected);
        Assert.Equal(ModbusOutcome.NotConnected, Read(link).Outcome);
        Assert.Equal("Requests 1, BrokenRequests 1, Openings 1", link.Counters.ToString());
    }

    [Fact]
    public void Frames_keep_their_distance_of_three_and_a_half_characters()
    {
        _line.OnWrite = (line, request) => line.Queue(0, request);
        _link = new SerialModbusLink(new SerialLineOptions { PortName = "fake", BaudRate = 1200 }, _line, new RtuLinkOptions());
        _link.Connect(100);
        Assert.True(_link.WriteRegister(1, 3, 2, TimeoutMs).IsGood);
        long start = Stopwatch.GetTimestamp();
        Assert.True(_link.WriteRegister(1, 3, 2, TimeoutMs).IsGood);
        Assert.True(Stopwatch.GetElapsedTime(start).TotalMilliseconds >= 31); // t3.5 at 1200 bit/s: 32.083 ms
    }

    private SerialModbusLink Open(RtuLinkOptions? options = null)
    {
        _link = new SerialModbusLink(new SerialLineOptions { PortName = "fake" }, _line, options ?? new RtuLinkOptions());
        _link.Connect(100);
        return _link;
    }

    private ModbusResult Read(SerialModbusLink link, int timeoutMs = TimeoutMs) =>
        link.ReadRegisters(1, ModbusTable.HoldingRegisters, 16, _words, timeoutMs);
}
