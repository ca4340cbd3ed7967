using EdgeGuard.Core.Signals;
using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Records.Journal;
using EdgeGuard.Records.Ring;
using EdgeGuard.Service.Configuration;
using EdgeGuard.Service.FieldIo;

namespace EdgeGuard.Service.Tests.FieldIo;

/// <summary>Gaps, rates and lines with several devices, stepped on the test's own thread.</summary>
public sealed class LinkEngineBusTests
{
    private const int Heartbeat = 0;
    private const int Relay = 1;

    private readonly FakeLink _link = new();
    private readonly ManualClock _clock = new();

    [Fact]
    public void A_refused_gap_is_read_in_parts_for_the_rest_of_the_run()
    {
        LinkEngine engine = GapEngine();
        for (int i = 0; i < 12; i++)
        {
            _link.Registers[i] = (ushort)(100 + i);
        }

        _link.Fault = l => l == "read 1:2+10" ? new ModbusResult(ModbusOutcome.DeviceException, ModbusExceptionCode.IllegalDataAddress) : null;
        engine.ConnectAndProve();
        _link.ClearLog();
        engine.PollAll();
        engine.PollAll();
        Assert.Equal(["read 1:2+3", "read 1:10+2", "read 1:2+3", "read 1:10+2"], _link.Log);
        BlockReading reading = engine.Blocks[0].Take();
        Assert.Equal(ReadResult.Good, reading.Result);
        Assert.Equal([102, 103, 104, 0, 0, 0, 0, 0, 110, 111], reading.Words);
        Assert.Equal(1, engine.Counters[LinkFigure.SplitRequests]);
        engine.Fail(-1, ReadResult.NotConnected);
        _link.ClearLog();
        engine.ConnectAndProve();
        Assert.Equal(["connect", "read 1:2+3", "read 1:10+2"], _link.Log);
    }

    [Trait("requirement", "MODB-11")]
    [Theory]
    [InlineData(ModbusExceptionCode.ServerDeviceBusy)]
    [InlineData(ModbusExceptionCode.IllegalDataValue)]
    public void Only_a_missing_address_splits_a_request(ModbusExceptionCode code)
    {
        LinkEngine engine = GapEngine();
        _link.Fault = l => l.StartsWith("read", StringComparison.Ordinal) ? new ModbusResult(ModbusOutcome.DeviceException, code) : null;
        engine.ConnectAndProve();
        engine.PollAll();
        Assert.Equal(["connect", "read 1:2+10", "read 1:2+10"], _link.Log);
        Assert.Equal((byte)code, engine.Blocks[0].Take().ExceptionCode);
        Assert.Equal(0, engine.Counters[LinkFigure.SplitRequests]);
        Assert.Equal(2, engine.Counters[LinkFigure.Exceptions]);

        // A person is told which device refuses which registers and what to look at: once, whatever comes after.
        Assert.True(engine.News.TryTake(out ShellEventId id, out string? told));
        Assert.Equal(ShellEventId.PollFails, id);
        Assert.StartsWith($"unit id 1 refuses holding 2 to 11: exception {(byte)code:X2}, ", told, StringComparison.Ordinal);
        Assert.False(engine.News.TryTake(out _, out _));
    }

    [Fact]
    public void A_part_that_is_refused_too_leaves_the_block_without_a_good_answer()
    {
        LinkEngine engine = GapEngine();
        _link.Fault = l => l is "read 1:2+10" or "read 1:10+2" ? new ModbusResult(ModbusOutcome.DeviceException, ModbusExceptionCode.IllegalDataAddress) : null;
        engine.ConnectAndProve();
        engine.PollAll();
        Assert.Equal(ReadResult.DeviceException, engine.Blocks[0].Take().Result);
        Assert.Equal(0u, engine.Blocks[0].Take().ReadCount);
        Assert.True(engine.IsOnline);
    }

    [Fact]
    public void A_removal_goes_between_the_parts_of_a_split_request()
    {
        LinkEngine engine = GapEngine();
        _link.Fault = l => l == "read 1:2+10" ? new ModbusResult(ModbusOutcome.DeviceException, ModbusExceptionCode.IllegalDataAddress) : null;
        engine.ConnectAndProve();
        _link.ClearLog();
        _link.Fault = l =>
        {
            if (l == "read 1:2+3")
            {
                engine.Commands[Relay].Offer(0, twoWords: false, deEnergising: true);
            }

            return null;
        };
        engine.PollAll();
        Assert.Equal(["read 1:2+3", "write 1:1=0", "read 1:10+2"], _link.Log);
    }

    [Fact]
    public void Blocks_of_a_slower_rate_are_read_in_their_rounds_spread_and_all_at_once_after_a_loss()
    {
        LinkTable table = FieldTables.Link();
        table = table with
        {
            Polls = [table.Polls[0], table.Polls[1] with { EveryScans = 3 }, table.Polls[1] with { Block = 2, Address = 20, EveryScans = 3 }],
        };
        var engine = new LinkEngine(table, _link, _clock);
        engine.ConnectAndProve();
        var rounds = new List<string>();
        for (int i = 0; i < 7; i++)
        {
            _link.ClearLog();
            engine.PollAll();
            rounds.Add(string.Join(' ', _link.Log.Select(l => l["read 1:".Length..])));
        }

        Assert.Equal(["0+4 10+2 20+2", "0+4", "0+4 10+2", "0+4 20+2", "0+4", "0+4 10+2", "0+4 20+2"], rounds);
        engine.Fail(-1, ReadResult.NotConnected);
        engine.ConnectAndProve();
        _link.ClearLog();
        engine.PollAll();
        Assert.Contains("read 1:20+2", _link.Log);
    }

    [Trait("requirement", "MODB-5")]
    [Fact]
    public void On_a_line_that_stays_open_a_silent_device_fails_its_own_blocks_only()
    {
        LinkEngine engine = BusEngine();
        engine.ConnectAndProve();
        engine.PollAll();
        _link.Fault = Silent("read 2:");
        engine.Commands[Heartbeat].Offer(41, twoWords: false, deEnergising: false);
        engine.PollAll();
        Assert.True(engine.IsOnline);
        Assert.Equal(ReadResult.Timeout, engine.Blocks[1].Take().Result);
        Assert.Equal(ReadResult.Good, engine.Blocks[0].Take().Result);
        Assert.Equal(2u + 1, engine.Blocks[0].Take().ReadCount);
        Assert.True(engine.ServeOneEnergising());
        Assert.Equal(CommandFeedback.Confirmed, engine.Commands[Heartbeat].Feedback);
        Assert.Equal(0, engine.Counters[LinkFigure.Losses]);
    }

    [Trait("requirement", "MODB-11")]
    [Fact]
    public void A_silent_device_rests_for_longer_and_longer_and_is_asked_in_each_round_once_it_answers()
    {
        LinkEngine engine = BusEngine();
        engine.ConnectAndProve();
        _link.Fault = Silent("read 2:");
        _link.ClearLog();
        var asked = new List<int>();
        for (int round = 0; round < 40; round++)
        {
            int before = _link.Log.Length;
            engine.PollAll();
            if (_link.Log.Skip(before).Contains("read 2:10+2"))
            {
                asked.Add(round);
            }
        }

        // Two time-outs free, then rests of 1, 2, 4 and, as the longest wait of the link allows, 5 rounds.
        Assert.Equal([0, 1, 3, 6, 11, 17, 23, 29, 35], asked);
        Assert.True(engine.News.TryTake(out ShellEventId id, out string? told));
        Assert.Equal(ShellEventId.PollFails, id);
        Assert.StartsWith("unit id 2 does not answer; check its power", told, StringComparison.Ordinal);
        Assert.False(engine.News.TryTake(out _, out _)); // once, however often it is asked in vain
        _link.Fault = static _ => null;
        for (int round = 0; round < 6; round++)
        {
            engine.PollAll();
        }

        _link.ClearLog();
        engine.PollAll();
        Assert.Equal(["read 1:0+4", "read 2:10+2"], _link.Log.Order(StringComparer.Ordinal));
    }

    [Fact]
    public void A_removal_for_a_silent_device_on_an_open_line_is_kept_until_it_is_confirmed()
    {
        LinkEngine engine = BusEngine();
        engine.ConnectAndProve();
        _link.Fault = Silent("write");
        engine.Commands[Relay].Offer(0, twoWords: false, deEnergising: true);
        engine.Commands[Heartbeat].Offer(41, twoWords: false, deEnergising: false);
        engine.ServeDeEnergising();
        engine.ServeOneEnergising();
        Assert.Equal(CommandFeedback.Outstanding, engine.Commands[Relay].Feedback);
        Assert.Equal(CommandFeedback.Failed, engine.Commands[Heartbeat].Feedback);
        _link.Fault = static _ => null;
        _link.ClearLog();
        engine.PollAll();
        Assert.Equal("write 1:1=0", _link.Log[0]);
        Assert.Equal(CommandFeedback.Confirmed, engine.Commands[Relay].Feedback);
        Assert.False(engine.ServeOneEnergising());
    }

    [Fact]
    public void An_open_line_on_which_nobody_answers_is_no_connection()
    {
        LinkEngine engine = BusEngine();
        _link.Fault = Silent("read");
        Assert.Throws<LinkFailedException>(engine.ConnectAndProve);
        _link.Fault = Silent("read 1:");
        engine.ConnectAndProve();
        Assert.True(engine.IsOnline);
        long losses = engine.Counters[LinkFigure.Losses];
        _link.Fault = Silent("read");
        engine.PollAll();
        Assert.False(engine.IsOnline);
        Assert.Equal(ReadResult.NotConnected, engine.Blocks[0].Take().Result);
        Assert.Equal(losses + 1, engine.Counters[LinkFigure.Losses]);

        // The line itself stays open: closing it would forget the answers that may still come.
        Assert.True(_link.IsConnected);
        _link.Fault = static _ => null;
        _link.ClearLog();
        engine.ConnectAndProve();
        Assert.StartsWith("read ", Assert.Single(_link.Log), StringComparison.Ordinal);
        Assert.True(engine.IsOnline);
    }

    [Trait("requirement", "WRIT-3")]
    [Fact]
    public void While_a_line_is_proved_a_removal_waits_for_the_one_request_under_way_and_not_for_every_silent_device()
    {
        LinkEngine engine = BusEngine();
        _link.Fault = l =>
        {
            if (l != "read 1:0+4")
            {
                return null;
            }

            engine.Commands[Relay].Offer(0, twoWords: false, deEnergising: true);
            return new ModbusResult(ModbusOutcome.Timeout);
        };
        engine.ConnectAndProve();
        Assert.Equal(["connect", "read 1:0+4", "write 1:1=0", "read 2:10+2"], _link.Log);
        Assert.True(engine.IsOnline);
    }

    private static Func<string, ModbusResult?> Silent(string prefix) =>
        l => l.StartsWith(prefix, StringComparison.Ordinal) ? new ModbusResult(ModbusOutcome.Timeout) : null;

    /// <summary>Two devices on one line; the longest wait between attempts is five scans.</summary>
    private LinkEngine BusEngine()
    {
        _link.StaysOpen = true;
        LinkTable table = FieldTables.Link() with { ReconnectMaxMs = 5 * FieldTables.ScanMs };
        return new LinkEngine(table with { Polls = [table.Polls[0], table.Polls[1] with { UnitId = 2 }] }, _link, _clock);
    }

    private LinkEngine GapEngine()
    {
        LinkTable table = FieldTables.Link();
        PollRequestTable poll = table.Polls[0] with { Address = 2, Count = 10, Spans = [new PollSpan(0, 3), new PollSpan(8, 2)] };
        return new LinkEngine(table with { Polls = [poll] }, _link, _clock);
    }
}
