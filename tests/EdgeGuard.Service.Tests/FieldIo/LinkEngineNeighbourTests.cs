using System.Net.Sockets;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Records.Ring;
using EdgeGuard.Service.FieldIo;

namespace EdgeGuard.Service.Tests.FieldIo;

/// <summary>Two controllers on one link, of which the first is silent while removals wait for both.</summary>
public sealed class LinkEngineNeighbourTests
{
    private const int OwnRelay = 0;
    private const int OwnSetpoint = 1;
    private const int NeighbourRelay = 2;

    private readonly FakeLink _link = new();
    private readonly ManualClock _clock = new();

    [Fact]
    public void Behind_a_gateway_the_removal_of_the_neighbour_is_sent_and_its_blocks_are_read()
    {
        LinkEngine engine = Engine();
        engine.ConnectAndProve();
        Silence(engine);
        engine.ServeDeEnergising();
        Assert.False(engine.IsOnline);
        Attempts(engine, 3);
        Assert.Equal(CommandFeedback.Confirmed, engine.Commands[NeighbourRelay].Feedback);
        Assert.True(engine.IsOnline);
        Assert.Equal(CommandFeedback.Outstanding, engine.Commands[OwnRelay].Feedback);
        uint before = engine.Blocks[1].Take().ReadCount;
        for (int round = 0; round < 40; round++)
        {
            Attempts(engine, 3);
            engine.ServeDeEnergising();
            engine.PollAll();
        }

        Assert.InRange(engine.Blocks[1].Take().ReadCount - before, 20u, 200u);
        Assert.Equal(CommandFeedback.Outstanding, engine.Commands[OwnRelay].Feedback);
    }

    [Fact]
    public void A_connection_that_was_lost_once_sends_what_waits_before_its_first_poll()
    {
        LinkEngine engine = Engine();
        engine.ConnectAndProve();
        engine.Commands[OwnRelay].Offer(0, twoWords: false, deEnergising: true);
        _link.Fault = static l => l.StartsWith("write", StringComparison.Ordinal) ? new ModbusResult(ModbusOutcome.ConnectionLost) : null;
        engine.ServeDeEnergising();
        _link.Fault = static _ => null;
        _link.ClearLog();
        engine.ConnectAndProve();
        Assert.Equal(["connect", "write 1:0=0"], _link.Log.Take(2));
        Assert.Equal(CommandFeedback.Confirmed, engine.Commands[OwnRelay].Feedback);
    }

    [Fact]
    public void On_an_open_line_removals_of_a_silent_device_cost_its_neighbours_one_time_out_now_and_then()
    {
        _link.StaysOpen = true;
        LinkEngine engine = Engine();
        engine.ConnectAndProve();
        Silence(engine);
        engine.ServeDeEnergising();
        Assert.Equal(["write 1:0=0", "write 1:5=17442,32768", "write 2:1=0"], _link.Writes);
        for (int round = 0; round < 60; round++)
        {
            engine.PollAll();
        }

        // Rests of 1, 2, 4 and then 5 rounds, as the longest wait of the link allows: 13 tries, and no more than one a round.
        Assert.InRange(_link.Writes.Count(l => l.StartsWith("write 1:", StringComparison.Ordinal)), 10, 16);
        Assert.Equal(CommandFeedback.Confirmed, engine.Commands[NeighbourRelay].Feedback);
        Assert.Equal(0, engine.Counters[LinkFigure.Losses]);
    }

    [Fact]
    public void The_first_answer_of_a_device_that_rested_sends_all_its_removals()
    {
        _link.StaysOpen = true;
        LinkEngine engine = Engine();
        engine.ConnectAndProve();
        Silence(engine, "write 1:");
        engine.ServeDeEnergising();
        _link.Fault = static _ => null;
        engine.PollAll();
        engine.ServeDeEnergising();
        Assert.Equal(CommandFeedback.Confirmed, engine.Commands[OwnRelay].Feedback);
        Assert.Equal(CommandFeedback.Confirmed, engine.Commands[OwnSetpoint].Feedback);
    }

    [Fact]
    public void An_energising_write_for_a_device_at_rest_fails_unsent()
    {
        _link.StaysOpen = true;
        LinkEngine engine = Engine();
        engine.ConnectAndProve();
        Silence(engine);
        engine.ServeDeEnergising();
        _link.ClearLog();
        engine.Commands[3].Offer(300, twoWords: false, deEnergising: false);
        Assert.False(engine.ServeOneEnergising());
        Assert.Equal(CommandFeedback.Failed, engine.Commands[3].Feedback);
        Assert.Empty(_link.Log);
    }

    [Fact]
    public void A_gateway_that_says_its_target_is_silent_is_no_answer_of_the_target()
    {
        LinkEngine engine = Engine();
        engine.ConnectAndProve();
        _link.Fault = static l => l.Contains(" 1:", StringComparison.Ordinal) ? new ModbusResult(ModbusOutcome.DeviceException, ModbusExceptionCode.GatewayTargetFailedToRespond) : null;
        _link.ClearLog();
        for (int round = 0; round < 60; round++)
        {
            engine.Commands[OwnRelay].Offer(0, twoWords: false, deEnergising: true);
            engine.ServeDeEnergising();
            engine.PollAll();
        }

        Assert.InRange(_link.Writes.Length, 10, 16);
        Assert.True(engine.IsOnline);
    }

    [Fact]
    public void A_device_that_its_gateway_does_not_reach_is_not_asked_in_each_round_since_it_costs_the_gateways_time_out()
    {
        LinkEngine engine = Engine();
        engine.ConnectAndProve();
        _link.Fault = static l => l.Contains(" 1:", StringComparison.Ordinal) ? new ModbusResult(ModbusOutcome.DeviceException, ModbusExceptionCode.GatewayTargetFailedToRespond) : null;
        _link.ClearLog();
        for (int round = 0; round < 60; round++)
        {
            engine.PollAll();
        }

        Assert.InRange(_link.Log.Count(l => l.StartsWith("read 1:", StringComparison.Ordinal)), 10, 16);
        Assert.Equal(60, _link.Log.Count(l => l.StartsWith("read 2:", StringComparison.Ordinal)));
        Assert.Equal(ReadResult.DeviceException, engine.Blocks[0].Take().Result);
        Assert.Equal(0, engine.Counters[LinkFigure.Losses]);
    }

    [Fact]
    public void A_gateway_whose_devices_are_all_silent_is_still_there()
    {
        LinkEngine engine = Engine();
        engine.ConnectAndProve();
        _link.Fault = static _ => new ModbusResult(ModbusOutcome.DeviceException, ModbusExceptionCode.GatewayTargetFailedToRespond);
        for (int round = 0; round < 60; round++)
        {
            engine.PollAll();
        }

        Assert.True(engine.IsOnline);
        Assert.Equal(0, engine.Counters[LinkFigure.Losses]);
        _link.Fault = static _ => null;
        for (int round = 0; round < 6; round++)
        {
            engine.PollAll();
        }

        Assert.Equal(ReadResult.Good, engine.Blocks[0].Take().Result);
        Assert.Equal(ReadResult.Good, engine.Blocks[1].Take().Result);
    }

    [Fact]
    public void The_answer_to_a_removal_ends_the_rest_of_the_polls_of_its_device_too()
    {
        _link.StaysOpen = true;
        LinkEngine engine = Engine(reconnectMaxMs: 60_000);
        engine.ConnectAndProve();
        _link.Fault = static l => l.StartsWith("read 1:", StringComparison.Ordinal) ? new ModbusResult(ModbusOutcome.Timeout) : null;
        for (int round = 0; round < 40; round++)
        {
            engine.PollAll();
        }

        _link.Fault = static _ => null;
        engine.Commands[OwnRelay].Offer(0, twoWords: false, deEnergising: true);
        engine.PollAll();
        Assert.Equal(ReadResult.Good, engine.Blocks[0].Take().Result);
    }

    [Fact]
    public void A_round_in_which_only_the_silent_device_was_asked_leaves_the_line_open()
    {
        _link.StaysOpen = true;
        LinkEngine engine = Engine(neighbourEvery: 3);
        engine.ConnectAndProve();
        _link.Fault = static l => l.StartsWith("read 1:", StringComparison.Ordinal) ? new ModbusResult(ModbusOutcome.Timeout) : null;
        for (int round = 0; round < 30; round++)
        {
            engine.PollAll();
        }

        Assert.True(engine.IsOnline);
        Assert.Equal(0, engine.Counters[LinkFigure.Losses]);
        Assert.Equal(ReadResult.Good, engine.Blocks[1].Take().Result);
    }

    [Fact]
    public void A_line_on_which_all_devices_fall_silent_is_given_up_in_one_round_however_many_blocks_it_has()
    {
        _link.StaysOpen = true;
        LinkTable table = FieldTables.Link();
        PollRequestTable poll = table.Polls[0];
        var engine = new LinkEngine(table with { Polls = [.. Enumerable.Range(0, 8).Select(i => poll with { Block = i, UnitId = (byte)(1 + (i / 4)) })] }, _link, _clock);
        engine.ConnectAndProve();
        engine.PollAll();
        Assert.True(engine.IsOnline);
        _link.Fault = static _ => new ModbusResult(ModbusOutcome.Timeout);
        engine.PollAll();
        Assert.False(engine.IsOnline);
        Assert.Equal(1, engine.Counters[LinkFigure.Losses]);
    }

    [Fact]
    public void While_nothing_is_answered_the_removal_still_goes_out_at_every_other_attempt_to_connect()
    {
        // A device whose answers are lost may still hear, as with one wire of a pair broken.
        var engine = new LinkEngine(FieldTables.Link(), _link, _clock);
        engine.ConnectAndProve();
        engine.Commands[1].Offer(0, twoWords: false, deEnergising: true);
        _link.Fault = static _ => new ModbusResult(ModbusOutcome.Timeout);
        for (int attempt = 0; attempt < 40; attempt++)
        {
            _clock.AdvanceMs(3_000);
            Attempts(engine, 1);
            engine.ServeDeEnergising();
        }

        Assert.InRange(_link.Writes.Length, 15, 40);
    }

    [Fact]
    public void However_far_apart_the_attempts_to_connect_are_a_removal_for_a_dead_device_leaves_every_other_to_its_neighbours()
    {
        LinkEngine engine = Engine();
        engine.ConnectAndProve();
        Silence(engine);
        engine.ServeDeEnergising();
        _link.Refusing = true;
        for (int attempt = 0; attempt < 6; attempt++)
        {
            _clock.AdvanceMs(60_000);
            AttemptRefused(engine);
        }

        _link.Refusing = false;
        for (int attempt = 0; attempt < 4 && !engine.IsOnline; attempt++)
        {
            _clock.AdvanceMs(60_000);
            Attempts(engine, 1);
        }

        Assert.True(engine.IsOnline);
        Assert.Equal(CommandFeedback.Confirmed, engine.Commands[NeighbourRelay].Feedback);
    }

    [Fact]
    public void Where_a_round_takes_a_second_a_removal_does_not_rest_for_more_than_two_and_one_round()
    {
        _link.StaysOpen = true;
        LinkEngine engine = Engine(reconnectMaxMs: 60_000);
        engine.ConnectAndProve();
        Silence(engine);
        engine.ServeDeEnergising();
        _link.ClearLog();
        for (int round = 0; round < 60; round++)
        {
            _clock.AdvanceMs(1_000);
            engine.PollAll();
        }

        Assert.InRange(_link.Writes.Count(l => l.StartsWith("write 1:", StringComparison.Ordinal)), 19, 31);
    }

    // What a trip offers: removals for both units, of which the first does not answer.
    private void Silence(LinkEngine engine, string prefix = "")
    {
        engine.Commands[OwnRelay].Offer(0, twoWords: false, deEnergising: true);
        engine.Commands[OwnSetpoint].Offer(0x4422_8000, twoWords: true, deEnergising: true);
        engine.Commands[NeighbourRelay].Offer(0, twoWords: false, deEnergising: true);
        _link.ClearLog();
        _link.Fault = l => (prefix.Length > 0 ? l.StartsWith(prefix, StringComparison.Ordinal) : l.Contains(" 1:", StringComparison.Ordinal)) ? new ModbusResult(ModbusOutcome.Timeout) : null;
    }

    private static void Attempts(LinkEngine engine, int attempts)
    {
        for (int i = 0; i < attempts && !engine.IsOnline; i++)
        {
            try
            {
                engine.ConnectAndProve();
            }
            catch (LinkFailedException)
            {
                // Backed off from, as the worker does.
            }
        }
    }

    private static void AttemptRefused(LinkEngine engine) => Assert.Throws<SocketException>(engine.ConnectAndProve);

    /// <summary>The longest wait between attempts is five scans.</summary>
    private LinkEngine Engine(int neighbourEvery = 1, int reconnectMaxMs = 5 * FieldTables.ScanMs)
    {
        LinkTable table = FieldTables.Link() with { ReconnectMaxMs = reconnectMaxMs };
        WritePointTable relay = table.Writes[1];
        return new LinkEngine(
            table with
            {
                Polls = [table.Polls[0], table.Polls[1] with { UnitId = 2, EveryScans = neighbourEvery }],
                Writes = [relay with { Address = 0 }, table.Writes[2], relay with { Unit = 1, UnitId = 2 }, table.Writes[3] with { Role = CommandRole.BlowerDemand }],
            },
            _link,
            _clock);
    }
}
