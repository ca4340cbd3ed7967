using System.Diagnostics;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Records.Ring;
using EdgeGuard.Service.FieldIo;

namespace EdgeGuard.Service.Tests.FieldIo;

/// <summary>The thread around the engine: schedule, wake, isolation, conducted mode.</summary>
public sealed class LinkWorkerTests
{
    private const int LimitMs = 60_000;

    private readonly FakeLink _link = new();
    private readonly QuietObserver _observer = new();

    [Fact]
    public void A_dead_device_does_not_delay_the_slots_of_another_link()
    {
        var clock = new MonotonicClock();
        using var end = new ManualResetEventSlim();
        var dead = new FakeLink { Fault = _ => Hang(end) };
        using var bus = new FieldBus(
            [
                new LinkWorker(new LinkEngine(FieldTables.Link("dead"), dead, clock), clock, _observer, conducted: false),
                new LinkWorker(new LinkEngine(FieldTables.Link("alive", firstBlock: 2, unit: 1), _link, clock), clock, _observer, conducted: false),
            ],
            blockCount: 4,
            unitCount: 2);
        bus.Start(clock.NowUs + 20_000);
        var scan = new RawScan([4, 2, 4, 2], 2);
        // The dead one does not come back from its first request: a link that shared a thread with it would read nothing.
        WaitFor(() => Fill(bus, scan, clock).Blocks[2] is { ReadCount: > 10, AgeMs: < 400 });
        Assert.NotEqual(ReadResult.Good, scan.Blocks[0].Result);
        Assert.Equal(int.MaxValue, scan.Blocks[0].AgeMs);
        bus.Offer(1, CommandRole.Relay, FieldTables.DeEnergise(0));
        bus.Offer(0, CommandRole.Relay, FieldTables.DeEnergise(0));
        bus.WakeWorkers();
        WaitFor(() => Fill(bus, scan, clock).Feedback[CommandRoles.Count + (int)CommandRole.Relay] == CommandFeedback.Confirmed);
        Assert.Equal(CommandFeedback.Outstanding, scan.Feedback[(int)CommandRole.Relay]);
        end.Set();
        bus.Stop(limitMs: 2000);
    }

    [Fact]
    public void Links_that_hang_are_given_up_together_and_not_one_after_the_other()
    {
        const int Links = 12;
        const int StopMs = 300;
        var clock = new MonotonicClock();
        using var hang = new ManualResetEventSlim();
        var bus = new FieldBus(
            [.. Enumerable.Range(0, Links).Select(i => new LinkWorker(new LinkEngine(FieldTables.Link("dead", firstBlock: 2 * i, unit: i), new FakeLink { Opening = hang.Wait }, clock), clock, _observer, conducted: false))],
            blockCount: 2 * Links,
            unitCount: Links);
        bus.Start(clock.NowUs);
        long began = Environment.TickCount64;
        bus.Stop(StopMs);
        bus.Dispose();
        // One after the other they took 12 times 300 ms to stop and 12 s to dispose of.
        Assert.InRange(Environment.TickCount64 - began, StopMs - 20, 3_000);
        hang.Set();
    }

    [Fact]
    public void A_write_interrupts_the_wait_for_the_next_poll()
    {
        var clock = new MonotonicClock();
        LinkTable slow = FieldTables.Link() with { ScanMs = 60_000 };
        using FieldBus bus = Bus(clock, slow, conducted: false);
        bus.Start(clock.NowUs + 60_000_000);
        WaitFor(() => bus.Workers[0].Engine.IsOnline);
        bus.Offer(0, CommandRole.Relay, FieldTables.DeEnergise(0));
        bus.WakeWorkers();
        WaitFor(() => _link.Writes.Length > 0);
        Assert.Equal(["write 1:1=0"], _link.Writes);
    }

    [Fact]
    public void An_energising_write_for_a_link_that_is_down_fails_at_once()
    {
        var clock = new MonotonicClock();
        _link.Refusing = true;
        using FieldBus bus = Bus(clock, FieldTables.Link(), conducted: false);
        bus.Start(clock.NowUs);
        bus.Offer(0, CommandRole.Heartbeat, FieldTables.Energise(1));
        bus.Offer(0, CommandRole.Relay, FieldTables.DeEnergise(0));
        RawScan scan = Fill(bus, new RawScan([4, 2], 1), clock);
        Assert.Equal(CommandFeedback.Failed, scan.Feedback[(int)CommandRole.Heartbeat]);
        Assert.Equal(CommandFeedback.Outstanding, scan.Feedback[(int)CommandRole.Relay]);
        _link.Refusing = false;
        WaitFor(() => _link.Writes.Length > 0);
        Assert.Equal(["write 1:1=0"], _link.Writes);
    }

    [Fact]
    public void Each_attempt_that_fails_is_followed_by_a_wait_and_both_are_counted()
    {
        var clock = new MonotonicClock();
        _link.Refusing = true;
        using FieldBus bus = Bus(clock, FieldTables.Link(), conducted: false);
        bus.Start(clock.NowUs);
        LinkFigures figures = bus.Workers[0].Engine.Counters;
        WaitFor(() => figures[LinkFigure.BackOffs] >= 3);
        _link.Refusing = false;
        WaitFor(() => bus.Workers[0].Engine.IsOnline);
        bus.Stop(limitMs: 2000);
        Assert.Equal((1L, figures[LinkFigure.FailedConnects], 0L), (figures[LinkFigure.Connects], figures[LinkFigure.BackOffs], figures[LinkFigure.UnprovedConnects]));
    }

    [Fact]
    public void Rounds_that_a_slow_device_makes_impossible_are_counted()
    {
        var clock = new MonotonicClock();
        const int SlowMs = 3 * FieldTables.ScanMs;
        _link.Fault = static line =>
        {
            Thread.Sleep(line.StartsWith("read", StringComparison.Ordinal) ? SlowMs : 0);
            return null;
        };
        using FieldBus bus = Bus(clock, FieldTables.Link(), conducted: false);
        bus.Start(clock.NowUs);
        LinkFigures figures = bus.Workers[0].Engine.Counters;
        WaitFor(() => figures[LinkFigure.GoodReads] >= 5);
        bus.Stop(limitMs: 2000);

        // Two blocks a round, six periods of reading: one is the round's own and five are skipped; the first read is that of the connect.
        long rounds = (figures[LinkFigure.GoodReads] - 1) / 2;
        Assert.True(figures[LinkFigure.PollOverruns] >= 5 * (rounds - 1), $"{figures[LinkFigure.PollOverruns]} skipped in {rounds} rounds");
    }

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(100.1)]
    [InlineData(-0.1)]
    public void An_energising_value_out_of_range_is_not_written(double value)
    {
        var clock = new ConductedClock();
        using FieldBus bus = Bus(clock, FieldTables.Link(), conducted: true);
        bus.Start(0);
        bus.PollNow();
        bus.Offer(0, CommandRole.BlowerDemand, FieldTables.Energise(value));
        bus.ServeNow();
        Assert.Empty(_link.Writes);
        Assert.Equal(CommandFeedback.Failed, Fill(bus, new RawScan([4, 2], 1), clock).Feedback[(int)CommandRole.BlowerDemand]);
    }

    [Fact]
    public void Conducted_runs_repeat_exactly_through_refusal_loss_and_return()
    {
        string[] first = ConductedRun();
        Assert.Contains("refused", first);
        Assert.Contains("close", first);
        for (int i = 0; i < 5; i++)
        {
            Assert.Equal(first, ConductedRun());
        }
    }

    [Fact]
    public void Conducted_ages_grow_with_simulated_time_while_the_device_is_away()
    {
        var clock = new ConductedClock();
        using FieldBus bus = Bus(clock, FieldTables.Link(), conducted: true);
        bus.Start(0);
        var scan = new RawScan([4, 2], 1);
        bus.PollNow();
        _link.Refusing = true;
        _link.Fault = static _ => new ModbusResult(ModbusOutcome.Timeout);
        for (int i = 1; i <= 3; i++)
        {
            clock.MoveTo(i * 100_000L);
            bus.PollNow();
            Assert.Equal(i * 100, Fill(bus, scan, clock).Blocks[1].AgeMs);
            Assert.Equal(ReadResult.NotConnected, scan.Blocks[1].Result);
        }
    }

    [Fact]
    public void A_fault_of_the_software_is_reported_and_the_link_taken_up_again()
    {
        var clock = new MonotonicClock();
        int faults = 0;
        _link.Fault = l => l == "read 1:10+2" && Interlocked.Increment(ref faults) == 1 ? throw new InvalidCastException("injected") : null;
        using FieldBus bus = Bus(clock, FieldTables.Link(), conducted: false);
        bus.Start(clock.NowUs);
        WaitFor(() => bus.Workers[0].Engine.Counters[LinkFigure.Faults] == 1 && bus.Workers[0].Engine.Counters[LinkFigure.Connects] == 2);
        Assert.Contains("fault cabinet", _observer.Heard);
    }

    [Fact]
    public void A_removal_offered_during_the_last_request_of_a_round_goes_before_the_energising_writes()
    {
        var clock = new MonotonicClock();
        using FieldBus bus = Bus(clock, FieldTables.Link(), conducted: false);
        CommandSlot[] commands = bus.Workers[0].Engine.Commands;
        int reads = 0;
        _link.Fault = l =>
        {
            if (l == "read 1:10+2" && ++reads == 3)
            {
                commands[0].Offer(41, twoWords: false, deEnergising: false);
                commands[1].Offer(0, twoWords: false, deEnergising: true);
            }
            else if (l == "write 1:0=41")
            {
                commands[1].Offer(0, twoWords: false, deEnergising: true);
                commands[2].Offer(7, twoWords: false, deEnergising: false);
            }

            return null;
        };
        bus.Start(clock.NowUs);
        WaitFor(() => _link.Writes.Length == 4);
        Assert.Equal(["write 1:1=0", "write 1:0=41", "write 1:1=0", "write 1:5=7"], _link.Writes);
    }

    [Fact]
    public void A_link_that_throws_when_closed_is_taken_up_again_and_its_blocks_are_marked()
    {
        var clock = new MonotonicClock();
        int faults = 0;
        ReadResult marked = ReadResult.Good;
        using FieldBus bus = Bus(clock, FieldTables.Link(), conducted: false);
        LinkEngine engine = bus.Workers[0].Engine;
        _link.Closing = () =>
        {
            marked = engine.Blocks[0].Take().Result;
            throw new InvalidOperationException("injected");
        };
        _link.Fault = l => l == "read 1:10+2" && Interlocked.Increment(ref faults) == 1 ? throw new InvalidCastException("injected") : null;
        bus.Start(clock.NowUs);
        WaitFor(() => engine.Counters[LinkFigure.Faults] >= 2 && engine.Counters[LinkFigure.Connects] >= 2);
        Assert.Equal(ReadResult.NotConnected, marked);
        Assert.True(bus.Workers[0].Stop(limitMs: 10_000));
    }

    [Fact]
    public void An_observer_that_throws_does_not_end_the_link()
    {
        var clock = new MonotonicClock();
        int faults = 0;
        _observer.OnFault = static () => throw new InvalidOperationException("injected");
        _link.Fault = l => l == "read 1:10+2" && Interlocked.Increment(ref faults) == 1 ? throw new InvalidCastException("injected") : null;
        using FieldBus bus = Bus(clock, FieldTables.Link(), conducted: false);
        bus.Start(clock.NowUs);
        WaitFor(() => bus.Workers[0].Engine.Counters[LinkFigure.Faults] == 2 && bus.Workers[0].Engine.Counters[LinkFigure.Connects] == 2);
    }

    private string[] ConductedRun()
    {
        _link.ClearLog();
        _link.Refusing = true;
        _link.Fault = static _ => null;
        var clock = new ConductedClock();
        using FieldBus bus = Bus(clock, FieldTables.Link(), conducted: true);
        bus.Start(0);
        for (int i = 0; i < 8; i++)
        {
            clock.MoveTo(i * 20_000L);
            _link.Refusing = i is 0 or 5;
            _link.Fault = i == 4 ? static l => l == "write 1:0=4" ? new ModbusResult(ModbusOutcome.ConnectionLost) : null : static _ => null;
            bus.PollNow();
            bus.Offer(0, CommandRole.Heartbeat, FieldTables.Energise(i));
            bus.Offer(0, CommandRole.Setpoint, FieldTables.Energise(600 + i));
            bus.Offer(0, CommandRole.Relay, i > 3 ? FieldTables.DeEnergise(0) : FieldTables.Energise(1));
            bus.ServeNow();
        }

        bus.Stop(limitMs: 2000);
        return _link.Log;
    }

    private FieldBus Bus(FieldClock clock, LinkTable table, bool conducted) =>
        new([new LinkWorker(new LinkEngine(table, _link, clock), clock, _observer, conducted)], blockCount: 2, unitCount: 1);

    private static RawScan Fill(FieldBus bus, RawScan scan, FieldClock clock)
    {
        bus.Fill(scan, clock.NowUs);
        return scan;
    }

    private static ModbusResult? Hang(ManualResetEventSlim end)
    {
        end.Wait(LimitMs);
        return new ModbusResult(ModbusOutcome.Timeout);
    }

    private static void WaitFor(Func<bool> condition)
    {
        var watch = Stopwatch.StartNew();
        while (!condition())
        {
            Assert.True(watch.ElapsedMilliseconds < LimitMs, $"the condition did not come true within {LimitMs} ms");
            Thread.Sleep(2);
        }
    }
}
