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
