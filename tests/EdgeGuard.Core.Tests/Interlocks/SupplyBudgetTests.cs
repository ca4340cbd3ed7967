using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Tests.Interlocks;

public sealed class SupplyBudgetTests
{
    [Trait("requirement", "DMND-1")]
    [Fact]
    public void The_newest_ramp_is_the_one_that_was_permitted_last_not_the_one_that_was_started_last()
    {
        TestHall hall = new TestHall(TestSite.Of(TestSite.N1(), TestSite.A1()) with { SupplyLimitKw = 60 }).Run(40);
        hall.Request(0, RequestKind.Reset).Request(1, RequestKind.Reset).Run();
        hall.Cabinets[1].Element = 200; // hot: its pre-flow is short
        hall.Run(50).Request(0, RequestKind.Start).Run().Request(1, RequestKind.Start);
        hall.RunUntil(static h => h[1].State == UnitState.Heating, 200);
        Assert.Equal(UnitState.PreFlow, hall[0].State);
        hall.RunUntil(static h => h[0].State == UnitState.Heating, 400);
        (hall.Cabinets[0].Power, hall.Cabinets[1].Power) = (36, 24);
        hall.Run(3);
        Assert.Equal((true, false), (hall[0].RampHeld, hall[1].RampHeld));
    }

    [Trait("requirement", "DMND-1")]
    [Fact]
    public void Two_that_are_proved_in_one_scan_do_not_both_take_the_room_of_one()
    {
        SiteTable site = TestSite.Of(TestSite.N1(), TestSite.A1()) with { SupplyLimitKw = 45 };
        var hall = new TestHall(site);
        hall.Run(40).Request(0, RequestKind.Reset).Request(1, RequestKind.Reset).Run();
        hall.Request(0, RequestKind.Start).Request(1, RequestKind.Start).RunUntil(h => h[0].PendingDurable || h[1].PendingDurable, 1_000);
        Assert.Equal((true, false, true), (hall[0].PendingDurable, hall[1].PendingDurable, hall[1].RampHeld));
        hall.Run(50);
        Assert.Equal((UnitState.Heating, UnitState.PreFlow), (hall[0].State, hall[1].State));
    }

    [Trait("requirement", "DMND-1")]
    [Fact]
    public void Waiting_units_go_in_the_order_of_their_start()
    {
        // 36 kW ramps within 60; then a second 36 kW waits, and the 15 kW behind it, which would fit, waits its turn.
        TestHall hall = Hall(60, TestSite.N1(), TestSite.N1(), TestSite.A1());
        StartAll(hall, 0, 1, 2);
        hall.RunUntil(h => h[0].State == UnitState.Heating, 400).Run(50);
        Assert.True(hall[1] is { State: UnitState.PreFlow, RampHeld: true, Permit: false });
        Assert.True(hall[2] is { State: UnitState.PreFlow, RampHeld: true, Permit: false });

        Assert.Equal([0, 1, 2], new[] { hall[0].SupplyPlace, hall[1].SupplyPlace, hall[2].SupplyPlace });

        hall.Request(1, RequestKind.Stop).Run(3);
        Assert.True(hall[2].Permit);
        Assert.Equal([0, 0, 0], new[] { hall[0].SupplyPlace, hall[1].SupplyPlace, hall[2].SupplyPlace });
    }

    [Fact]
    public void The_newest_ramp_is_frozen_first_and_the_older_ones_after_ten_seconds()
    {
        TestHall hall = Hall(80, TestSite.N1(), TestSite.N1());
        StartAll(hall, 0, 1);
        hall.RunUntil(h => h[1].State == UnitState.Heating, 400).Run(10);
        hall.Cabinets[0].Power = 41;
        hall.Cabinets[1].Power = 41; // 82 kW measured: more than rated, more than reserved.
        hall.Run(50);
        Assert.False(hall[0].RampHeld);
        Assert.True(hall[1].RampHeld);
        double led = hall[1].LedSetpointC;
        hall.Run(60);
        Assert.True(hall[0].RampHeld);
        Assert.Equal(led, hall[1].LedSetpointC);

        hall.Cabinets[1].Power = 38; // 79 kW: below the limit, above the release at 98 %.
        hall.Run(5);
        Assert.True(hall[1].RampHeld);
        hall.Cabinets[1].Power = 30;
        hall.Run(2);
        Assert.False(hall[1].RampHeld);
    }

    [Fact]
    public void A_unit_of_unknown_power_holds_its_rated_power()
    {
        TestHall hall = Hall(45, TestSite.N1(), TestSite.A1());
        hall.Cabinets[0].Link = ReadResult.NotConnected;
        StartAll(hall, 1);
        hall.Run(500);
        Assert.True(hall[1] is { State: UnitState.PreFlow, RampHeld: true });
        Assert.Equal(36, hall.Output.SitePowerKw);
        hall.Cabinets[0].Link = ReadResult.Good;
        hall.Run(50);
        Assert.True(hall[1].Permit);
    }

    private static TestHall Hall(double limitKw, params Func<int, UnitTable>[] units)
    {
        var hall = new TestHall(TestSite.Of(units) with { SupplyLimitKw = limitKw });
        foreach (TestCabinet cabinet in hall.Cabinets)
        {
            cabinet.Element = 60;
        }

        return hall;
    }

    private static void StartAll(TestHall hall, params int[] units)
    {
        hall.Run(40);
        foreach (int unit in units)
        {
            hall.Request(unit, RequestKind.Reset).Run().Request(unit, RequestKind.Start).Run();
        }
    }
}
