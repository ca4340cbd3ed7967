using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Tests.Interlocks;

public sealed class StartConditionTests
{
    [Fact]
    public void A_watchdog_time_that_cannot_be_read_forbids_the_permit()
    {
        TestHall hall = Proving(0, table => table with
        {
            Signals = [.. table.Signals.Select(s => s.Role == SignalRole.WatchdogTime ? s with { RangeMax = 5_000 } : s)],
        });
        hall.Cabinets[0].Watchdog = 9_000;
        hall.Run(400);
        Assert.Equal(UnitState.PreFlow, hall[0].State);
        Assert.False(hall[0].PendingDurable);
        hall.Cabinets[0].Watchdog = 2_000;
        Assert.True(hall.Run(2)[0].Permit);
    }

    [Theory]
    [InlineData(CommandRole.ManualMode, 1)]
    [InlineData(CommandRole.Setpoint, 46)] // One ramp step is 5 K at 60 K/min above an outlet of 40 °C.
    public void A_read_back_out_of_start_position_forbids_the_permit(CommandRole role, double value)
    {
        TestHall hall = Proving(100);
        hall.Cabinets[0].Stuck = true;
        hall.Cabinets[0][role] = value;
        hall.Run(300);
        Assert.Equal(UnitState.PreFlow, hall[0].State);
        Assert.False(hall[0].PendingDurable);
        hall.Cabinets[0].Stuck = false;
        Assert.True(hall.Run(4)[0].Permit);
    }

    [Fact]
    public void A_setpoint_of_one_ramp_step_above_the_outlet_is_a_start_position()
    {
        TestHall hall = Proving(100);
        hall.Cabinets[0].Stuck = true;
        hall.Cabinets[0][CommandRole.Setpoint] = 45;
        hall.RunUntil(h => h[0].Permit, 300); // Later the token that has no effect trips.
    }

    [Fact]
    public void A_start_position_that_never_agrees_is_given_up_with_a_trip_of_command_verification()
    {
        TestHall hall = Proving(100);
        hall.Cabinets[0].Output = 30;
        hall.Run(1_990);
        Assert.Equal(UnitState.PreFlow, hall[0].State);
        hall.Run(30);
        Assert.Equal(FunctionId.Cmdv, hall[0].FirstOut);
    }

    [Fact]
    public void A_decided_permit_is_taken_back_when_the_flow_is_lost_before_it_is_durable()
    {
        TestHall hall = Proving(0);
        hall.DurableFollows = false;
        hall.RunUntil(h => h[0].PendingDurable, 400);
        hall.Cabinets[0].Flow = 120; // Above the trip limit, below the proving limit.
        hall.Run();
        Assert.False(hall[0].PendingDurable);
        Assert.Contains(hall.Output.Events.Take(hall.Output.EventCount), e => e.Id == EventId.PermitWithdrawn);
        hall.DurableFollows = true;
        Assert.False(hall.Run(50)[0].Permit);
    }

    [Fact]
    public void A_watchdog_time_changed_while_the_permit_is_pending_trips()
    {
        TestHall hall = Proving(0);
        hall.DurableFollows = false;
        hall.RunUntil(h => h[0].PendingDurable, 400);
        hall.Cabinets[0].Watchdog = 9_000;
        hall.Run();
        Assert.Equal(FunctionId.Cmdv, hall[0].FirstOut);
    }

    [Fact]
    public void A_cool_down_begins_at_the_outlet_when_that_is_below_the_led_setpoint()
    {
        TestHall hall = Proving(0);
        hall.RunUntil(h => h[0].State == UnitState.Heating, 400);
        hall.Cabinets[0].Element = 300;
        hall.Cabinets[0].Outlet = 200;
        hall.Run(3_000);
        Assert.True(hall[0].LedSetpointC > 330);
        hall.Request(0, RequestKind.Cool).Run();
        Assert.Equal(200, hall[0].LedSetpointC, 0.1);
    }

    [Trait("requirement", "COOL-1")]
    [Fact]
    public void A_cool_down_whose_heater_still_turns_does_not_end_for_want_of_power()
    {
        TestHall hall = Proving(0);
        hall.RunUntil(h => h[0].State == UnitState.Heating, 400);
        (hall.Cabinets[0].Element, hall.Cabinets[0].Outlet) = (300, 200);
        hall.Run(3_000);
        (hall.Cabinets[0].Power, hall.Cabinets[0].SlopeElement) = (0.2, 20); // below 1 % of rated; the element still rises
        hall.Run(250).Request(0, RequestKind.Cool).Run(1_190); // 120 s at most to turn
        Assert.Equal(UnitState.LedCooldown, hall[0].State);
        hall.Run(590); // then 60 s without power
        Assert.Equal(UnitState.LedCooldown, hall[0].State);
        hall.Run(40);
        Assert.Equal(UnitState.AfterCooling, hall[0].State);
    }

    [Fact]
    public void A_journal_that_fails_during_pre_flow_ends_it()
    {
        TestHall hall = Proving(0);
        hall.Scan.Journal = JournalHealth.Failing;
        hall.Run(101);
        Assert.NotEqual(UnitState.PreFlow, hall[0].State);
        Assert.Equal(FunctionId.None, hall[0].FirstOut);
    }

    [Trait("requirement", "RESET-2")]
    [Theory]
    [InlineData(false, UnitState.Tripped)]
    [InlineData(true, UnitState.Ready)]
    public void A_reset_from_outside_needs_the_site_to_allow_it(bool allowed, UnitState state)
    {
        SiteTable site = TestSite.Of(TestSite.N1());
        var hall = new TestHall(site with { Units = [site.Units[0] with { RemoteReset = allowed }] });
        hall.Run(40).Request(0, RequestKind.Reset, remote: true).Run();
        Assert.Equal(state, hall[0].State);
    }

    [Fact]
    public void A_request_that_is_seen_twice_counts_once()
    {
        TestHall hall = Proving(0);
        hall.Request(0, RequestKind.Stop).Run();
        OperatorRequest request = new() { Kind = RequestKind.Reset, Id = 500 };
        hall.Scan.Requests[0] = request;
        hall.Run();
        Assert.Equal(EventId.RequestRefused, hall.Output.Events[0].Id);
        hall.Scan.Requests[0] = request;
        hall.Run();
        Assert.DoesNotContain(hall.Output.Events.Take(hall.Output.EventCount), e => e.Id is EventId.RequestRefused or EventId.RequestAccepted);
    }

    [Fact]
    public void The_key_given_back_removes_what_power_the_cabinet_left_before_it_is_residual()
    {
        var hall = new TestHall(TestSite.Of(TestSite.N1()));
        hall.Cabinets[0].Key = false;
        hall.Cabinets[0].Residual = 20;
        hall.Run(100);
        Assert.Equal(FunctionState.Idle, hall[0].Functions[(int)FunctionId.Resd].State);
        hall.Cabinets[0].Key = true;
        hall.Run(10);
        Assert.Equal(FunctionState.Idle, hall[0].Functions[(int)FunctionId.Resd].State); // Blanking time of 1 s.
        hall.Run(11);
        Assert.Equal(FunctionState.Demand, hall[0].Functions[(int)FunctionId.Resd].State);
    }

    [Fact]
    public void An_output_limit_that_is_not_read_back_forbids_the_permit()
    {
        SiteTable site = TestSite.Of(i => TestSite.X1()(i) with { RampPowerKw = 18 }); // 50 % of 36 kW
        TestHall hall = new TestHall(site).BringTo(0, UnitState.PreFlow).Run(100);
        hall.Cabinets[0].Stuck = true;
        hall.Cabinets[0][CommandRole.OutputLimit] = 80;
        hall.Run(300);
        Assert.Equal(UnitState.PreFlow, hall[0].State);
        Assert.False(hall[0].PendingDurable);
        hall.Cabinets[0].Stuck = false;
        Assert.True(hall.Run(4)[0].Permit);
    }

    [Trait("requirement", "DELY-2")]
    [Fact]
    public void Power_is_proved_off_by_scans_that_were_looked_at_and_not_by_a_standstill()
    {
        TestHall hall = new TestHall(TestSite.Of(TestSite.N1())).BringTo(0, UnitState.Heating);
        hall.Request(0, RequestKind.Stop).Run(13); // Blanking of 1 s, then the proof of 1 s begins.
        hall.Skip(30).Run();
        Assert.False(hall[0].PowerProvedOff);
        hall.Run(6);
        Assert.False(hall[0].PowerProvedOff);
        hall.Run(4);
        Assert.True(hall[0].PowerProvedOff);
    }

    [Trait("requirement", "RESET-4")]
    [Fact]
    public void A_button_that_hangs_and_cannot_be_read_for_a_while_resets_nothing()
    {
        var hall = new TestHall(TestSite.Of(TestSite.X1()));
        hall.Cabinets[0].Button = true;
        hall.Run(40);
        hall.BeforeStep = h => h.Scan.Blocks[3].Words[22] = 7; // neither 0 nor 1
        hall.Run(3);
        hall.BeforeStep = null;
        hall.Run(3);
        Assert.Equal(UnitState.Tripped, hall[0].State);
        hall.Cabinets[0].Button = false;
        hall.Run();
        hall.Cabinets[0].Button = true;
        Assert.Equal(UnitState.Ready, hall.Run()[0].State);
    }

    [Trait("requirement", "CMDV-5")]
    [Fact]
    public void A_watchdog_seen_alive_under_an_earlier_permit_still_has_its_time_under_the_next()
    {
        TestHall hall = new TestHall(TestSite.Of(TestSite.N1())).BringTo(0, UnitState.Heating);
        hall.Run(10).Request(0, RequestKind.Stop).Run(60);
        hall.Request(0, RequestKind.Start).Run();
        hall.Cabinets[0].WatchdogWorks = false;
        hall.RunUntil(static h => h[0].State == UnitState.Heating, 400).Run(20);
        Assert.True(hall[0].Permit);
        hall.Cabinets[0].WatchdogWorks = true;
        Assert.True(hall.Run(50)[0].Permit);
    }

    [Trait("requirement", "CLAS-1")]
    [Fact]
    public void A_new_trip_is_not_classified_by_what_was_found_of_the_one_before()
    {
        TestHall hall = Proving(0);
        hall.Cabinets[0].Chain = false;
        hall.Run().Request(0, RequestKind.ClassifySpurious).Run();
        Assert.Equal((FunctionId.Hard, TripClass.Spurious), (hall[0].LastTrip, hall[0].LastTripClass));
        hall.Cabinets[0].Chain = true;
        hall.Run(60).Request(0, RequestKind.Reset).Run();
        Assert.Equal(UnitState.Ready, hall[0].State);
        hall.Cabinets[0].Chain = false;
        hall.Run();
        Assert.Equal((UnitState.Tripped, TripClass.Unknown), (hall[0].State, hall[0].LastTripClass));
        hall.Request(0, RequestKind.ClassifyGenuine).Run();
        Assert.Equal((2, 1), (hall[0].Counts[(int)FunctionId.Hard].Trips, hall[0].Counts[(int)FunctionId.Hard].SpuriousTrips));
    }

    private static TestHall Proving(int scans, Func<UnitTable, UnitTable>? change = null)
    {
        SiteTable site = TestSite.Of(TestSite.N1());
        site = change is null ? site : site with { Units = [change(site.Units[0])] };
        var hall = new TestHall(site);
        return hall.BringTo(0, UnitState.PreFlow).Run(scans);
    }
}
