using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Tests.Interlocks;

/// <summary>What goes on with real values while a forced one is judged: leads, setback of the judgement in force, votes, jumps.</summary>
public sealed class ForcedRealTests
{
    [Trait("requirement", "FORC-5")]
    [Theory]
    [InlineData(20)]
    [InlineData(300)]
    public void Setpoint_and_start_position_follow_the_real_outlet(double forced)
    {
        var hall = new TestHall(TestSite.Of(TestSite.StartsForced()));
        hall.BringTo(0, UnitState.Ready).Force(0, SignalRole.OutletTemperature, forced, 15).Run(2);
        hall.Request(0, RequestKind.Start).Run(3);
        Assert.Equal(35, hall[0].Commands[(int)CommandRole.Setpoint].Value); // 40 °C less one ramp step of 5 s at 60 K/min
        hall.RunUntil(h => h[0].Permit, 400);
        Assert.InRange(hall[0].LedSetpointC, 40, 41);
        Assert.Equal(forced, hall[0].Image[SignalRole.OutletTemperature].Value);
        hall.Cabinets[0].Outlet = 45;
        hall.Request(0, RequestKind.Cool).Run();
        Assert.InRange(hall[0].LedSetpointC, 39, 45);
    }

    [Fact]
    public void The_output_limit_follows_the_flow_that_is_judged()
    {
        double Limit(bool force)
        {
            var hall = new TestHall(TestSite.Of(i => TestSite.X1()(i) with { Bala = null }));
            hall.BringTo(0, UnitState.Heating);
            (hall.Cabinets[0].Element, hall.Cabinets[0].Outlet, hall.Cabinets[0].Power) = (600, 400, 25);
            hall.Run(300); // no slope any more, so no stored heat
            if (force)
            {
                hall.Force(0, SignalRole.GasFlow, 140, 15).Run(2);
                hall.Cabinets[0].Flow = 110;
            }

            hall.Cabinets[0].Further[SignalRole.GasFlow2] = 140; // 2oo3: the middle one is judged
            hall.Cabinets[0].Further[SignalRole.GasFlow3] = 110;
            hall.Run(30);
            Assert.Equal(UnitState.Heating, hall[0].State);
            return hall[0].Commands[(int)CommandRole.OutputLimit].Value;
        }

        double read = Limit(force: false);
        Assert.InRange(read, 80, 99); // 140 kg/h lowers it
        Assert.Equal(read, Limit(force: true));
    }

    [Trait("requirement", "FORC-4")]
    [Fact]
    public void A_redundant_sensor_lost_for_too_long_behind_a_force_shuts_down_when_the_force_ends()
    {
        var hall = new TestHall(TestSite.Of(i => TestSite.X1()(i) with { Bala = null }));
        hall.BringTo(0, UnitState.Heating);
        (hall.Cabinets[0].Element, hall.Cabinets[0].Outlet) = (600, 400);
        hall.Run(30);
        hall.Force(0, SignalRole.ElementTemperature, 600, 15).Run(2);
        hall.Cabinets[0].Element = 9_999;
        hall.Cabinets[0].Further[SignalRole.ElementTemperature2] = 600;
        hall.Cabinets[0].Further[SignalRole.ElementTemperature3] = 600;
        hall.Run(700); // lost for longer than the minute the vote allows
        Assert.Equal((UnitState.Heating, 1), (hall[0].State, hall[0].Counts[(int)FunctionId.Sens].ForcedDemands));
        hall.Unforce(0, SignalRole.ElementTemperature).Run(2);
        Assert.Equal(UnitState.LedCooldown, hall[0].State);
    }

    [Fact]
    public void A_jumping_sensor_behind_a_force_is_counted_and_trips_when_the_force_ends()
    {
        var hall = new TestHall(TestSite.Of(TestSite.F1()));
        hall.BringTo(0, UnitState.Heating).Force(0, SignalRole.OutletTemperature, 300, 15).Run(2);
        foreach (double celsius in (double[])[140, 40, 140])
        {
            hall.Cabinets[0].Outlet = celsius;
            hall.Run(5);
        }

        Assert.Equal((UnitState.Heating, 1), (hall[0].State, hall[0].Counts[(int)FunctionId.Sens].ForcedDemands));
        hall.Unforce(0, SignalRole.OutletTemperature).Run(2);
        Assert.Equal((UnitState.Tripped, FunctionId.Sens), (hall[0].State, hall[0].FirstOut));
    }

    /// <summary>A broken invariant ends a force with its trip, shows the words as read, and has room for all its events.</summary>
    [Trait("requirement", "FORC-7")]
    [Fact]
    public void A_unit_whose_step_breaks_has_no_forced_value_any_more()
    {
        var hall = new TestHall(TestSite.Of(TestSite.N1()));
        hall.BringTo(0, UnitState.Heating).Force(0, SignalRole.GasFlow, 140, 15).Run(2).Force(0, SignalRole.OutletTemperature, 300, 15).Run(2);
        Assert.Equal(2, hall[0].Forced.Count(f => f.Active));
        hall.BeforeStep = h => h.Scan.Blocks[1].Words = new ushort[3]; // not the size of the site table
        hall.Run();
        Assert.Equal((UnitState.Tripped, FunctionId.Self), (hall[0].State, hall[0].FirstOut));
        Assert.DoesNotContain(hall[0].Forced, f => f.Active);
        Assert.Equal(2, hall.Output.Events.Take(hall.Output.EventCount).Count(e => e.Id == EventId.ForceEndedByTrip));
    }
}
