using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Tests.Interlocks;

/// <summary>A unit that only observes has no permit, and its heater is judged all the same.</summary>
public sealed class ObservedPhaseTests
{
    [Fact]
    public void A_dead_line_of_an_observed_heater_is_told_as_would_trip_and_goes_with_the_current()
    {
        var hall = new TestHall(TestSite.Of(i => TestSite.X1()(i) with { Mode = UnitMode.Observe }));
        TestCabinet cabinet = hall.Cabinets[0];
        cabinet.Power = 20;
        cabinet[CommandRole.Relay] = 1;
        cabinet[CommandRole.Enable] = 1;
        cabinet[CommandRole.Heartbeat] = 1;
        cabinet[CommandRole.BlowerDemand] = 100;
        hall.Run(40);
        Assert.Equal(FunctionState.Healthy, hall[0].Functions[(int)FunctionId.Phas].State);

        cabinet.Further[SignalRole.CurrentL2] = 0;
        var told = new List<EventId>();
        hall.AfterStep = h => told.AddRange(h.Output.Events.Take(h.Output.EventCount).Where(e => e.Function == FunctionId.Phas).Select(e => e.Id));
        hall.Run(30);
        Assert.Equal(FunctionState.Demand, hall[0].Functions[(int)FunctionId.Phas].State);
        Assert.Contains(EventId.WouldTrip, told);

        cabinet[CommandRole.Enable] = 0;
        hall.Run(30);
        Assert.Equal(FunctionState.Idle, hall[0].Functions[(int)FunctionId.Phas].State);
        Assert.All(hall[0].Commands, c => Assert.False(c.Write));
    }
}
