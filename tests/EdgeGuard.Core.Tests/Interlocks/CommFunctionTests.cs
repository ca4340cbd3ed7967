using EdgeGuard.Core.Interlocks;

namespace EdgeGuard.Core.Tests.Interlocks;

public sealed class CommFunctionTests
{
    [Fact]
    public void A_slot_that_stays_young_without_a_new_read_is_seen()
    {
        var hall = new TestHall(TestSite.Of(TestSite.N1()));
        hall.BringTo(0, UnitState.Heating);
        uint frozen = hall.Scan.Blocks[2].ReadCount;
        hall.BeforeStep = h => h.Scan.Blocks[2].ReadCount = frozen; // Good and 20 ms old, says the slot.
        hall.Run(10);
        Assert.True(hall[0].Permit);
        hall.Run();
        Assert.Equal(FunctionId.Comm, hall[0].FirstOut);
        Assert.False(hall[0].Permit);
    }

    [Trait("requirement", "COMM-3")]
    [Theory]
    [InlineData(200, false)] // two periods: jitter
    [InlineData(1900, false)] // one scan left for the way of the next token
    [InlineData(1901, true)]
    [InlineData(4000, true)]
    [InlineData(int.MaxValue, true)]
    public void A_guard_that_stood_still_for_the_watchdog_time_trips_although_all_readings_are_fresh(int gapMs, bool trips)
    {
        var hall = new TestHall(TestSite.Of(TestSite.N1()));
        hall.BringTo(0, UnitState.Heating).Run(20);
        Assert.Equal(2000, hall.Site.Units[0].WatchdogMs);
        Assert.Equal(100, hall.Site.ScanMs);
        hall.Scan.GapMs = gapMs;
        hall.Run();
        hall.Scan.GapMs = 100;
        Assert.Equal(!trips, hall[0].Permit);
        Assert.Equal(trips ? FunctionId.Comm : FunctionId.None, hall[0].FirstOut);
        Assert.Equal(trips ? Finding.Standstill : Finding.None, hall[0].Functions[(int)FunctionId.Comm].Finding);
        Assert.Equal(trips ? 0 : 1, hall[0].Commands[(int)CommandRole.Heartbeat].Value == 0 ? 0 : 1);
        hall.Run(20);
        Assert.Equal(!trips, hall[0].Permit);
    }

    [Fact]
    public void A_standstill_without_a_permit_demands_nothing()
    {
        var hall = new TestHall(TestSite.Of(TestSite.N1()));
        hall.BringTo(0, UnitState.Ready);
        hall.Scan.GapMs = 60_000;
        hall.Run();
        Assert.Equal(UnitState.Ready, hall[0].State);
    }

    [Fact]
    public void A_token_that_is_not_confirmed_says_so_and_not_that_an_answer_is_missing()
    {
        var hall = new TestHall(TestSite.Of(TestSite.N1()));
        hall.BringTo(0, UnitState.Heating).Run(20);
        hall.Cabinets[0].Feedback = EdgeGuard.Core.Signals.CommandFeedback.Outstanding;
        hall.RunUntil(h => h[0].State == UnitState.Tripped, 30);
        GuardEvent trip = hall.Output.Events[..hall.Output.EventCount].Single(e => e.Id == EventId.Trip);
        Assert.Equal((FunctionId.Comm, Finding.TokenUnconfirmed, 2000), (trip.Function, trip.Finding, trip.Limit));
    }

    [Fact]
    public void One_lost_answer_forbids_a_reset_and_trips_nothing()
    {
        var hall = new TestHall(TestSite.Of(TestSite.N1()));
        hall.BringTo(0, UnitState.Heating);
        hall.Cabinets[0].Link = EdgeGuard.Core.Signals.ReadResult.Timeout;
        hall.Run();
        hall.Cabinets[0].Link = EdgeGuard.Core.Signals.ReadResult.Good;
        Assert.Equal(FunctionState.Pending, hall[0].Functions[(int)FunctionId.Comm].State);
        hall.Run(20);
        Assert.True(hall[0].Permit);
        Assert.Equal(FunctionState.Healthy, hall[0].Functions[(int)FunctionId.Comm].State);
    }
}
