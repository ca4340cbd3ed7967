using EdgeGuard.Service.FieldIo;

namespace EdgeGuard.Service.Tests.FieldIo;

/// <summary>Waits of a lost link: on its own thread, because a guard at the limit of its threads or descriptors gets no other.</summary>
public sealed class WaitingTimeTests
{
    [Fact]
    public void A_wait_is_over_on_the_thread_that_waits_and_not_before_its_time()
    {
        using var stop = new ManualResetEvent(initialState: false);
        int thread = 0;
        long began = Environment.TickCount64;
        using ITimer timer = new WaitingTime(stop).CreateTimer(_ => thread = Environment.CurrentManagedThreadId, null, TimeSpan.FromMilliseconds(100), Timeout.InfiniteTimeSpan);
        Assert.Equal(Environment.CurrentManagedThreadId, thread);
        Assert.InRange(Environment.TickCount64 - began, 80, long.MaxValue);
    }

    [Fact]
    public void A_stop_ends_a_wait_at_once_and_nobody_is_called()
    {
        using var stop = new ManualResetEvent(initialState: true);
        bool called = false;
        using ITimer timer = new WaitingTime(stop).CreateTimer(_ => called = true, null, TimeSpan.FromHours(1), Timeout.InfiniteTimeSpan);
        Assert.False(called);
    }

    [Fact]
    public void Links_that_wait_for_their_connection_need_no_timer_and_so_no_thread_of_the_pool()
    {
        const int Links = 60;
        var clock = new MonotonicClock();
        using var refused = new CountdownEvent(Links);
        long before = Timer.ActiveCount;
        using var bus = new FieldBus(
            [.. Enumerable.Range(0, Links).Select(i => Worker(i, clock, refused))],
            blockCount: 2 * Links,
            unitCount: Links);
        bus.Start(clock.NowUs);
        Assert.True(refused.Wait(60_000, TestContext.Current.CancellationToken));
        Thread.Sleep(200); // from the refusal to the wait
        Assert.InRange(Timer.ActiveCount - before, long.MinValue, Links / 2); // other tests have some of their own
        long began = Environment.TickCount64;
        bus.Stop(limitMs: 30_000);
        Assert.InRange(Environment.TickCount64 - began, 0, 20_000); // and the stop ends the waits
    }

    private static LinkWorker Worker(int i, MonotonicClock clock, CountdownEvent refused)
    {
        int told = 0;
        var link = new FakeLink
        {
            Refusing = true,
            Opening = () => _ = Interlocked.Exchange(ref told, 1) == 0 && refused.Signal(),
        };
        LinkTable table = FieldTables.Link("refused", firstBlock: 2 * i, unit: i) with { ReconnectMinMs = 3_600_000, ReconnectMaxMs = 3_600_000 };
        return new LinkWorker(new LinkEngine(table, link, clock), clock, new QuietObserver(), conducted: false);
    }
}
