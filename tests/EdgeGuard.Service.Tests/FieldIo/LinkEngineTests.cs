using System.Net.Sockets;
using EdgeGuard.Core.Signals;
using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Records.Ring;
using EdgeGuard.Service.FieldIo;

namespace EdgeGuard.Service.Tests.FieldIo;

/// <summary>The rules of one link, stepped on the test's own thread.</summary>
public sealed class LinkEngineTests
{
    private const int Heartbeat = 0;
    private const int Relay = 1;
    private const int Setpoint = 2;

    private readonly FakeLink _link = new();
    private readonly ManualClock _clock = new();
    private readonly LinkEngine _engine;

    public LinkEngineTests() => _engine = new LinkEngine(FieldTables.Link(), _link, _clock);

    [Fact]
    public void A_poll_round_reads_every_block_and_publishes_words_with_the_time_of_the_request()
    {
        _link.Registers[10] = 4711;
        _engine.ConnectAndProve();
        _link.ClearLog();
        _engine.PollAll();
        Assert.Equal(["read 1:0+4", "read 1:10+2"], _link.Log);
        BlockReading reading = _engine.Blocks[1].Take();
        Assert.Equal(ReadResult.Good, reading.Result);
        Assert.Equal(4711, reading.Words[0]);
        Assert.Equal(_clock.NowUs, reading.SentUs);
    }

    [Theory]
    [InlineData(ModbusOutcome.Timeout, ReadResult.Timeout)]
    [InlineData(ModbusOutcome.BadAnswer, ReadResult.BadAnswer)]
    [InlineData(ModbusOutcome.ConnectionLost, ReadResult.NotConnected)]
    [InlineData(ModbusOutcome.NotConnected, ReadResult.NotConnected)]
    [InlineData(ModbusOutcome.None, ReadResult.NotConnected)]
    public void A_failed_poll_closes_the_link_and_marks_every_block_while_the_words_keep_their_time(ModbusOutcome outcome, ReadResult expected)
    {
        _engine.ConnectAndProve();
        _engine.PollAll();
        long readUs = _clock.NowUs;
        _clock.AdvanceMs(20);
        _link.Fault = l => l == "read 1:10+2" ? new ModbusResult(outcome) : null;
        _engine.PollAll();
        Assert.False(_engine.IsOnline);
        Assert.False(_link.IsConnected);
        Assert.Equal(expected, _engine.Blocks[1].Take().Result);
        Assert.Equal(ReadResult.NotConnected, _engine.Blocks[0].Take().Result);
        Assert.Equal(readUs, _engine.Blocks[1].Take().SentUs);
        Assert.Equal(1, _engine.Counters[LinkFigure.Losses]);
    }

    [Fact]
    public void An_exception_code_of_the_device_keeps_the_connection()
    {
        _engine.ConnectAndProve();
        _link.Fault = l => l == "read 1:0+4" ? new ModbusResult(ModbusOutcome.DeviceException, ModbusExceptionCode.IllegalDataAddress) : null;
        _engine.PollAll();
        Assert.True(_engine.IsOnline);
        Assert.Equal(ReadResult.DeviceException, _engine.Blocks[0].Take().Result);
        Assert.Equal(2, _engine.Blocks[0].Take().ExceptionCode);
        Assert.Equal(ReadResult.Good, _engine.Blocks[1].Take().Result);
    }

    [Fact]
    public void Exceptions_bad_answers_and_time_outs_are_counted_apart_and_only_an_answer_has_a_round_trip()
    {
        _engine.ConnectAndProve();
        Assert.Equal((0L, 0L), (_engine.Counters[LinkFigure.RoundTripLast], _engine.Counters[LinkFigure.RoundTripMax]));
        Answer("read 1:0+4", 30, ModbusOutcome.DeviceException);
        Assert.Equal((1L, 0L, 0L), (_engine.Counters[LinkFigure.Exceptions], _engine.Counters[LinkFigure.BadAnswers], _engine.Counters[LinkFigure.Timeouts]));
        Assert.Equal(30_000, _engine.Counters[LinkFigure.RoundTripMax]);
        Answer("read 1:10+2", 40, ModbusOutcome.Good);
        Assert.Equal((40_000L, 40_000L), (_engine.Counters[LinkFigure.RoundTripLast], _engine.Counters[LinkFigure.RoundTripMax]));
        Answer("read 1:10+2", 5, ModbusOutcome.Good);
        Assert.Equal((5_000L, 40_000L), (_engine.Counters[LinkFigure.RoundTripLast], _engine.Counters[LinkFigure.RoundTripMax]));
        Answer("read 1:10+2", 900, ModbusOutcome.Timeout);
        _engine.ConnectAndProve();
        Answer("read 1:0+4", 800, ModbusOutcome.BadAnswer);
        Assert.Equal((1L, 1L, 1L), (_engine.Counters[LinkFigure.Exceptions], _engine.Counters[LinkFigure.BadAnswers], _engine.Counters[LinkFigure.Timeouts]));
        Assert.Equal(40_000, _engine.Counters[LinkFigure.RoundTripMax]);
    }

    [Fact]
    public void After_a_failure_the_next_connection_begins_with_another_block()
    {
        _engine.ConnectAndProve();
        _link.Fault = l => l == "read 1:0+4" ? new ModbusResult(ModbusOutcome.Timeout) : null;
        _engine.PollAll();
        _link.ClearLog();
        _engine.ConnectAndProve();
        Assert.Equal(["connect", "read 1:10+2"], _link.Log);
    }

    [Trait("requirement", "WRIT-3")]
    [Fact]
    public void De_energising_writes_overtake_energising_ones_and_go_between_two_poll_requests()
    {
        _engine.ConnectAndProve();
        _link.ClearLog();
        _engine.Commands[Heartbeat].Offer(41, twoWords: false, deEnergising: false);
        _link.Fault = l =>
        {
            if (l == "read 1:0+4")
            {
                _engine.Commands[Relay].Offer(0, twoWords: false, deEnergising: true);
            }

            return null;
        };
        _engine.PollAll();
        while (_engine.ServeOneEnergising())
        {
        }

        Assert.Equal(["read 1:0+4", "write 1:1=0", "read 1:10+2", "write 1:0=41"], _link.Log);
    }

    [Fact]
    public void A_connection_that_drops_in_the_middle_of_a_removal_sends_it_first_on_the_next_one()
    {
        _engine.ConnectAndProve();
        _engine.Commands[Heartbeat].Offer(41, twoWords: false, deEnergising: false);
        _engine.Commands[Relay].Offer(0, twoWords: false, deEnergising: true);
        _link.Fault = l => l.StartsWith("write", StringComparison.Ordinal) ? new ModbusResult(ModbusOutcome.ConnectionLost) : null;
        _engine.ServeDeEnergising();
        Assert.Equal(CommandFeedback.Failed, _engine.Commands[Heartbeat].Feedback);
        Assert.Equal(CommandFeedback.Outstanding, _engine.Commands[Relay].Feedback);
        _link.Fault = static _ => null;
        _link.ClearLog();
        _engine.ConnectAndProve();
        Assert.Equal(["connect", "write 1:1=0", "read 1:0+4"], _link.Log);
        Assert.Equal(CommandFeedback.Confirmed, _engine.Commands[Relay].Feedback);
        Assert.Equal(1, _engine.Counters[LinkFigure.DroppedWrites]);
    }

    [Trait("requirement", "WRIT-2")]
    [Fact]
    public void An_energising_write_that_timed_out_is_never_replayed()
    {
        _engine.ConnectAndProve();
        _engine.Commands[Heartbeat].Offer(41, twoWords: false, deEnergising: false);
        _link.Fault = l => l.StartsWith("write", StringComparison.Ordinal) ? new ModbusResult(ModbusOutcome.Timeout) : null;
        Assert.True(_engine.ServeOneEnergising());
        Assert.Equal(CommandFeedback.Failed, _engine.Commands[Heartbeat].Feedback);
        _link.Fault = static _ => null;
        _engine.ConnectAndProve();
        Assert.False(_engine.ServeOneEnergising());
        Assert.Single(_link.Writes);
    }

    [Fact]
    public void An_energising_write_offered_while_the_link_was_down_is_dropped_before_the_first_answer()
    {
        _engine.Commands[Heartbeat].Offer(41, twoWords: false, deEnergising: false);
        _engine.ConnectAndProve();
        Assert.Empty(_link.Writes);
        Assert.Equal(CommandFeedback.Failed, _engine.Commands[Heartbeat].Feedback);
    }

    [Fact]
    public void A_write_the_device_refuses_fails_and_keeps_the_connection()
    {
        _engine.ConnectAndProve();
        _engine.Commands[Setpoint].Offer(0x4422_8000, twoWords: true, deEnergising: false);
        _link.Fault = l => l.StartsWith("write", StringComparison.Ordinal) ? new ModbusResult(ModbusOutcome.DeviceException, ModbusExceptionCode.IllegalDataValue) : null;
        _engine.ServeOneEnergising();
        Assert.True(_engine.IsOnline);
        Assert.Equal(CommandFeedback.Failed, _engine.Commands[Setpoint].Feedback);
        Assert.Equal(["write 1:5=17442,32768"], _link.Writes);
    }

    [Fact]
    public void A_link_that_throws_in_the_middle_of_a_removal_does_not_lose_it()
    {
        _engine.ConnectAndProve();
        _engine.Commands[Relay].Offer(0, twoWords: false, deEnergising: true);
        _link.Fault = static _ => throw new InvalidOperationException("injected");
        Assert.Throws<InvalidOperationException>(_engine.ServeDeEnergising);
        Assert.Equal(CommandFeedback.Outstanding, _engine.Commands[Relay].Feedback);
        Assert.True(_engine.Commands[Relay].IsWaiting);
    }

    [Fact]
    public void A_connection_that_is_accepted_but_does_not_answer_counts_as_a_failed_attempt()
    {
        _link.Fault = static _ => new ModbusResult(ModbusOutcome.Timeout);
        Assert.Throws<LinkFailedException>(_engine.ConnectAndProve);
        Assert.Equal(0, _engine.Counters[LinkFigure.Connects]);
        _link.Refusing = true;
        Assert.Throws<SocketException>(_engine.ConnectAndProve);
        Assert.False(_engine.IsOnline);
    }

    [Trait("requirement", "MODB-9")]
    [Fact]
    public void A_link_is_up_only_when_it_has_answered_and_what_removes_power_goes_out_before()
    {
        _engine.Commands[Relay].Offer(0, twoWords: false, deEnergising: true);
        var seen = new List<(string Request, bool IsOnline)>();
        _link.Fault = line =>
        {
            seen.Add((line, _engine.IsOnline));
            _engine.Commands[Heartbeat].Offer(41, twoWords: false, deEnergising: false);
            return null;
        };
        _engine.ConnectAndProve();
        Assert.Equal([("write 1:1=0", false), ("read 1:0+4", false)], seen);
        Assert.True(_engine.IsOnline);

        // What was offered to a connection that had proved nothing yet does not outlive the proof.
        Assert.Equal(CommandFeedback.Failed, _engine.Commands[Heartbeat].Feedback);
        Assert.False(_engine.ServeOneEnergising());
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void A_device_that_accepts_and_says_nothing_is_never_up_and_so_never_lost(bool staysOpen)
    {
        _link.StaysOpen = staysOpen;
        bool wasUp = false;
        _link.Fault = _ =>
        {
            wasUp |= _engine.IsOnline;
            return new ModbusResult(ModbusOutcome.Timeout);
        };
        for (int i = 0; i < 3; i++)
        {
            Assert.Throws<LinkFailedException>(_engine.ConnectAndProve);
        }

        Assert.False(wasUp);
        Assert.Equal((0L, 0L), (_engine.Counters[LinkFigure.Connects], _engine.Counters[LinkFigure.Losses]));
        Assert.Equal(ModbusOutcome.Timeout, _engine.Counters.LastFailure);
    }

    [Fact]
    public void Polling_and_writing_allocate_nothing()
    {
        _link.Fault = static _ => null;
        var silent = new SilentLink();
        var engine = new LinkEngine(FieldTables.Link(), silent, _clock);
        engine.ConnectAndProve();
        Round(engine);
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int i = 0; i < 10_000; i++)
        {
            Round(engine);
        }

        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
        Assert.Equal(20_002, silent.WriteCount);
    }

    private static void Round(LinkEngine engine)
    {
        engine.Commands[Heartbeat].Offer(1, twoWords: false, deEnergising: false);
        engine.Commands[Setpoint].Offer(0x4422_8000, twoWords: true, deEnergising: true);
        engine.PollAll();
        engine.ServeOneEnergising();
        engine.Blocks[0].Take();
    }

    // One poll round in which one request takes its time; the others are answered at once.
    private void Answer(string request, int tookMs, ModbusOutcome outcome)
    {
        _link.Fault = line =>
        {
            if (line != request)
            {
                return null;
            }

            _clock.AdvanceMs(tookMs);
            return new ModbusResult(outcome, outcome == ModbusOutcome.DeviceException ? ModbusExceptionCode.IllegalDataAddress : default);
        };
        _engine.PollAll();
    }
}
