using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Tests.Interlocks;

/// <summary>What the functions on measured values remember from scan to scan, and what they must forget.</summary>
public sealed class MeasuredFunctionTests
{
    [Trait("requirement", "SENS-4")]
    [Fact]
    public void A_flow_that_stands_still_while_the_blower_is_eased_is_frozen()
    {
        TestHall hall = new TestHall(TestSite.Of(TestSite.F1())).BringTo(0, UnitState.Heating);
        (hall.Cabinets[0].Element, hall.Cabinets[0].Outlet) = (300, 250);
        hall.Run(100);
        ushort[] frozen = [hall.Scan.Blocks[2].Words[0], hall.Scan.Blocks[2].Words[1]];
        hall.BeforeStep = h => frozen.CopyTo(h.Scan.Blocks[2].Words, 0);
        hall.Request(0, RequestKind.Stop).RunUntil(static h => h[0].State == UnitState.Tripped, 600);
        FunctionStatus sens = hall[0].Functions[(int)FunctionId.Sens];
        Assert.Equal((FunctionId.Sens, Finding.Frozen, (double)SignalRole.GasFlow), (hall[0].FirstOut, sens.Finding, sens.Value));
    }

    [Trait("requirement", "PHAS-1")]
    [Fact]
    public void A_dead_line_that_was_found_stays_found_through_a_standstill()
    {
        TestHall hall = Heating(TestSite.X1());
        hall.Cabinets[0].Power = 20;
        hall.Run(20);
        hall.Cabinets[0].Further[SignalRole.CurrentL2] = 0;
        hall.RunUntil(h => h[0].Functions[(int)FunctionId.Phas].State == FunctionState.Pending, 30);
        hall.Skip(5).Run();
        Assert.Equal((UnitState.Tripped, FunctionId.Phas), (hall[0].State, hall[0].FirstOut));
    }

    [Trait("requirement", "FIRST-1")]
    [Theory]
    [InlineData(true, Finding.NotReadable)]
    [InlineData(false, Finding.None)]
    public void A_pulled_cable_is_told_apart_from_an_open_chain(bool cable, Finding finding)
    {
        TestHall hall = Heating(TestSite.N1());
        hall.Cabinets[0].Link = cable ? ReadResult.Timeout : ReadResult.Good;
        hall.Cabinets[0].Chain = cable;
        GuardEvent? trip = null;
        hall.AfterStep = h => trip ??= h.Output.Events.Take(h.Output.EventCount).Where(e => e.Id == EventId.Trip).Cast<GuardEvent?>().FirstOrDefault();
        hall.Run(30);
        Assert.Equal(finding, trip!.Value.Finding);
        Assert.Equal(finding, hall[0].Functions[(int)FunctionId.Hard].Finding);
        Assert.Equal(finding, hall[0].Functions[(int)FunctionId.Flow].Finding);
    }

    [Trait("requirement", "LEAK-1")]
    [Fact]
    public void A_low_insulation_stands_until_it_is_better_by_a_tenth_of_its_limit()
    {
        TestHall hall = Heating(TestSite.X1());
        hall.Cabinets[0].Further[SignalRole.Insulation] = 299; // limit 300
        hall.Run(5);
        hall.Cabinets[0].Further[SignalRole.Insulation] = 329;
        hall.Run(16);
        Assert.Equal(FunctionState.Demand, hall[0].Functions[(int)FunctionId.Leak].State);

        TestHall better = Heating(TestSite.X1());
        better.Cabinets[0].Further[SignalRole.Insulation] = 299;
        better.Run(5);
        better.Cabinets[0].Further[SignalRole.Insulation] = 331;
        better.Run(60);
        Assert.Equal(UnitState.Heating, better[0].State);
    }

    [Trait("requirement", "SENS-4")]
    [Fact]
    public void A_jump_is_forgotten_after_a_minute()
    {
        TestHall hall = Moving();
        hall.Cabinets[0].Outlet = 200;
        hall.Run(5);
        Assert.Equal(FunctionState.Alarm, hall[0].Functions[(int)FunctionId.Sens].State);
        hall.Run(610);
        Assert.Equal(FunctionState.Healthy, hall[0].Functions[(int)FunctionId.Sens].State);
        hall.Cabinets[0].Outlet = 60;
        hall.Run(5);
        hall.Cabinets[0].Outlet = 200;
        hall.Run(5);
        Assert.Equal((UnitState.Heating, FunctionId.None), (hall[0].State, hall[0].FirstOut)); // Two within this minute, three in all.
    }

    [Trait("requirement", "SENS-4")]
    [Fact]
    public void A_lost_reading_of_the_power_is_no_excitation()
    {
        TestHall hall = Moving();
        hall.Cabinets[0].SlopeElement = 0;
        hall.Run(250); // It stands still for longer than 20 s; the power stands still too.
        hall.BeforeStep = h => h.Scan.Blocks[1].Words[6] = 0x7FC0; // NaN
        hall.Run();
        hall.BeforeStep = null;
        hall.Cabinets[0].Power = 30; // One burst of firing.
        hall.Run();
        hall.Cabinets[0].Power = 5;
        hall.Run();
        Assert.Equal((UnitState.Heating, FunctionId.None, Finding.None), (hall[0].State, hall[0].FirstOut, hall[0].Functions[(int)FunctionId.Sens].Finding));
    }

    [Trait("requirement", "CMDV-2")]
    [Fact]
    public void A_blower_that_is_eased_may_be_read_back_a_second_late()
    {
        TestHall hall = Heating(TestSite.N1());
        hall.Cabinets[0].Element = 400;
        var late = new Queue<ushort>();
        hall.BeforeStep = h =>
        {
            late.Enqueue(h.Scan.Blocks[0].Words[7]);
            h.Scan.Blocks[0].Words[7] = late.Count > 10 ? late.Dequeue() : late.Peek();
        };
        hall.Request(0, RequestKind.Stop).Run(25);
        for (int i = 0; i < 200; i++)
        {
            hall.Run();
            Assert.Equal(FunctionState.Healthy, hall[0].Functions[(int)FunctionId.Cmdv].State);
        }

        Assert.InRange(hall[0].Commands[(int)CommandRole.BlowerDemand].Value, 50, 70); // 2 % a second for some 20 s.
    }

    /// <summary>Temperatures that move, and a power that has been the same for a minute.</summary>
    private static TestHall Moving()
    {
        TestHall hall = Heating(TestSite.F1());
        hall.Cabinets[0].Power = 5; // Below the power NORS judges.
        hall.Cabinets[0].SlopeElement = 1;
        hall.Cabinets[0].SlopeOutlet = 1;
        return hall.Run(600);
    }

    private static TestHall Heating(Func<int, UnitTable> unit) => new TestHall(TestSite.Of(unit)).BringTo(0, UnitState.Heating).Run(2);
}
