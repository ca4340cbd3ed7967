using EdgeGuard.Core.Signals;
using EdgeGuard.Records.Ring;
using EdgeGuard.Service.FieldIo;

namespace EdgeGuard.Service.Tests.FieldIo;

/// <summary>A read that the line holds back, because an earlier answer of that unit may still come, says nothing new of the device.</summary>
public sealed class HeldBackReadTests
{
    private readonly GuardedLink _link = new();
    private readonly ManualClock _clock = new();

    [Fact]
    public void One_lost_answer_fails_two_blocks_of_a_device_and_does_not_put_it_to_rest()
    {
        LinkEngine engine = Engine();
        _link.Fault = _link.Judge;
        int lost = 1;
        _link.IsLost = _ => lost-- > 0;
        engine.PollAll();
        Assert.Equal(ReadResult.Timeout, engine.Blocks[0].Take().Result);
        Assert.Equal(ReadResult.Timeout, engine.Blocks[1].Take().Result);
        engine.PollAll();
        Assert.Equal(ReadResult.Good, engine.Blocks[0].Take().Result);
        Assert.Equal(ReadResult.Good, engine.Blocks[1].Take().Result);
        Assert.False(engine.News.TryTake(out _, out _));
    }

    [Fact]
    public void A_device_that_answers_nothing_rests_all_the_same()
    {
        LinkEngine engine = Engine();
        _link.Fault = _link.Judge;
        _link.IsLost = static _ => true;
        _link.ClearLog();
        for (int round = 0; round < 40; round++)
        {
            engine.PollAll();
        }

        Assert.InRange(_link.Log.Count(l => l.StartsWith("read 1:", StringComparison.Ordinal)), 10, 30);
        Assert.True(engine.News.TryTake(out _, out _));
        Assert.True(engine.IsOnline);
    }

    [Fact]
    public void A_line_on_which_nothing_can_be_sent_is_given_up()
    {
        LinkEngine engine = Engine();
        _link.Fault = _ =>
        {
            _link.Counters.Add(Modbus.Client.LinkCounter.DeferredRequests);
            return new Modbus.Client.ModbusResult(Modbus.Client.ModbusOutcome.Timeout);
        };
        engine.PollAll();
        Assert.False(engine.IsOnline);
        Assert.Equal(1, engine.Counters[LinkFigure.Losses]);
    }

    /// <summary>Unit 1 with two blocks of one count, unit 2 with one; the longest wait is five scans.</summary>
    private LinkEngine Engine()
    {
        LinkTable table = FieldTables.Link() with { ReconnectMaxMs = 5 * FieldTables.ScanMs };
        PollRequestTable poll = table.Polls[0];
        var engine = new LinkEngine(
            table with { Polls = [poll, poll with { Block = 1, Address = 10 }, poll with { Block = 2, UnitId = 2 }] }, _link, _clock);
        engine.ConnectAndProve();
        return engine;
    }
}
