using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Tests.Interlocks;

public sealed class NoResponseFunctionTests
{
    [Trait("requirement", "NORS-3")]
    [Theory]
    [InlineData(140, true)]
    [InlineData(200, false)] // More gas cools the element: no fault of its sensor.
    public void An_element_falling_under_power_trips_unless_the_flow_rose(double flow, bool trips)
    {
        TestHall hall = Steady();
        hall.Cabinets[0].Flow = flow;
        hall.Cabinets[0].SlopeElement = -90;
        hall.Run(200);
        Assert.Equal(trips ? FunctionId.Nors : FunctionId.None, hall[0].FirstOut);
    }

    [Fact]
    public void A_led_cool_down_is_no_missing_response_even_without_a_working_setpoint_to_read()
    {
        TestHall hall = Steady(t => t with { Signals = [.. t.Signals.Where(s => s.Role != SignalRole.WorkingSetpoint)] });
        hall.Request(0, RequestKind.Cool).Run();
        hall.Cabinets[0].SlopeElement = -90;
        hall.Run(300);
        Assert.Equal(UnitState.LedCooldown, hall[0].State);
    }

    [Trait("requirement", "NORS-1")]
    [Theory]
    [InlineData(45, false)] // The ramp is frozen for the supply: nothing has to rise.
    [InlineData(90, true)]
    public void A_shorted_sensor_is_judged_while_the_ramp_moves(double limitKw, bool trips)
    {
        var hall = new TestHall(TestSite.Of(TestSite.N1(), TestSite.A1()) with { SupplyLimitKw = limitKw });
        TestCabinet cabinet = hall.Cabinets[0];
        (cabinet.Element, cabinet.Power) = (40, 5);
        hall.BringTo(0, UnitState.Heating).Run(400);
        (cabinet.Outlet, cabinet.Power) = (60, 30);
        hall.Cabinets[1].Residual = 20;
        hall.Run(300);
        Assert.Equal(trips ? FunctionId.Nors : FunctionId.None, hall[0].FirstOut);
    }

    private static TestHall Steady(Func<UnitTable, UnitTable>? change = null)
    {
        SiteTable site = TestSite.Of(TestSite.N1());
        site = change is null ? site : site with { Units = [change(site.Units[0])] };
        var hall = new TestHall(site);
        hall.BringTo(0, UnitState.Heating);
        TestCabinet cabinet = hall.Cabinets[0];
        (cabinet.Element, cabinet.Outlet, cabinet.Power) = (728, 650, 27);
        return hall.RunUntil(h => h[0].State == UnitState.Holding, 7_000).Run(250);
    }
}
