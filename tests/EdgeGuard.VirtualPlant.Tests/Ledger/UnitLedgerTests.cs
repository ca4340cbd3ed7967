using EdgeGuard.VirtualPlant.Ledger;

namespace EdgeGuard.VirtualPlant.Tests.Ledger;

/// <summary>Each figure of the ledger against a history whose answer is worked out by hand.</summary>
public sealed class UnitLedgerTests
{
    [Fact]
    public void Highest_element_temperature_is_kept_with_its_first_moment()
    {
        var h = new History();
        h.Run(100);
        h.ElementC = 812.5;
        h.Run(50);
        h.ElementC = 700;
        h.Run(1000);
        Assert.Equal(812.5, h.Ledger.ElementMaxC);
        Assert.Equal(105, h.Ledger.ElementMaxAtMs);
    }

    [Fact]
    public void Power_of_three_per_cent_is_not_powered_and_a_little_more_is()
    {
        var h = new History { PowerKw = 1.08 };
        h.Run(1000);
        Assert.Equal(0, h.Ledger.PoweredMs);
        h.PowerKw = 1.09;
        h.Run(1000);
        Assert.Equal(1000, h.Ledger.PoweredMs);
    }

    [Fact]
    public void Only_time_powered_with_the_true_flow_under_the_minimum_counts()
    {
        var h = new History { PowerKw = 27 };
        h.Run(1000);
        (h.Flow, h.Meter) = (69.9, 140);
        h.Run(300);
        h.PowerKw = 0;
        h.Run(500);
        (h.PowerKw, h.Flow, h.Meter) = (27, 70, 0);
        h.Run(1000);
        (h.Flow, h.Meter) = (10, 10);
        h.Run(200);
        Assert.Equal(500, h.Ledger.Flow.PoweredUnderMinimumMs);
        Assert.Equal(300, h.Ledger.Flow.LongestUnderMinimumMs);
    }

    [Fact]
    public void The_reaction_runs_from_the_register_below_the_limit_to_power_off_for_good()
    {
        var h = new History { PowerKw = 27 };
        h.Run(1000);
        h.Flow = 60;
        h.Run(400);
        h.Meter = 69;
        h.Run(200);
        // The controller itself cuts back to nothing: that is no removal.
        h.PowerKw = 0;
        h.Run(200);
        h.PowerKw = 20;
        h.Run(100);
        h.Permit = PermitState.Withdrawn;
        h.Run(40);
        h.PowerKw = 0;
        h.Run(100);
        FlowReaction reaction = Assert.Single(h.Ledger.Flow.Reactions);
        Assert.Equal(1005, reaction.TrueBelowMs);
        Assert.Equal(1405, reaction.RegisterBelowMs);
        Assert.Equal(27, reaction.PowerKw);
        // 1400 + 200 + 200 + 100 + 40: power was off from here on.
        Assert.Equal(1940, reaction.PowerOffMs);
        Assert.Equal(535, reaction.ReactionMs);
        Assert.False(reaction.IsOpen);
    }

    [Fact]
    public void A_flow_that_comes_back_before_power_is_off_leaves_no_reaction_time()
    {
        var h = new History { PowerKw = 27 };
        h.Run(100);
        h.Meter = 60;
        h.Run(300);
        h.Meter = 100;
        h.Run(100);
        FlowReaction reaction = Assert.Single(h.Ledger.Flow.Reactions);
        Assert.True(reaction.FlowCameBack);
        Assert.Equal(-1, reaction.ReactionMs);
    }

    [Fact]
    public void A_flow_that_falls_with_power_off_and_no_permit_is_no_occurrence()
    {
        var h = new History { Permit = PermitState.Withdrawn };
        h.Run(100);
        h.Meter = 0;
        h.Run(100);
        Assert.Empty(h.Ledger.Flow.Reactions);
    }

    [Fact]
    public void Power_that_stays_on_leaves_the_reaction_open()
    {
        var h = new History { PowerKw = 27 };
        h.Run(100);
        h.Meter = 0;
        h.Run(10_000);
        h.Permit = PermitState.Withdrawn;
        h.Run(10_000);
        Assert.True(Assert.Single(h.Ledger.Flow.Reactions).IsOpen);
    }

    [Fact]
    public void Transitions_carry_time_permit_and_time_since_the_last_token()
    {
        var h = new History();
        h.Run(1000);
        (h.PowerKw, h.TokenMs) = (10, 900);
        h.Run(3000);
        (h.PowerKw, h.Permit) = (0, PermitState.WatchdogExpired);
        h.Run(1000);
        Assert.Equal(
            [new PowerTransition(1000, true, 10, PermitState.Permitted, 100), new PowerTransition(4000, false, 0, PermitState.WatchdogExpired, 3100)],
            h.Ledger.Power.Transitions);
    }

    [Fact]
    public void A_led_cool_down_shows_the_mean_of_its_worst_minute()
    {
        var h = new History { PowerKw = 10, OutletC = 650 };
        h.Run(60_000);
        h.Run(120_000, -28);
        h.Run(30_000, -40);
        h.Run(60_000, -10);
        // Half a minute at 40 and half at 28 K/min.
        Assert.Equal(34.0, h.Ledger.CoolDown.LedMaxKPerMin, 1);
        Assert.InRange(h.Ledger.CoolDown.LedMaxAtMs, 209_900, 210_200);
        Assert.Equal(0.0, h.Ledger.CoolDown.ForcedMaxKPerMin);
        Assert.True(h.Ledger.CoolDown.LedAboveCapMs > 0);
    }

    [Fact]
    public void A_removal_under_power_makes_the_cool_down_forced_and_not_led()
    {
        var h = new History { PowerKw = 27, OutletC = 650 };
        h.Run(60_000);
        (h.PowerKw, h.Permit) = (0, PermitState.Withdrawn);
        h.Run(120_000, -300);
        Assert.Equal(300.0, h.Ledger.CoolDown.ForcedMaxKPerMin, 1);
        Assert.Equal(0.0, h.Ledger.CoolDown.LedMaxKPerMin);
        Assert.True(h.Ledger.CoolDown.ForcedAboveCapMs > 100_000);
    }

    [Fact]
    public void A_removal_that_takes_no_power_any_more_stays_led()
    {
        var h = new History { PowerKw = 5, OutletC = 172 };
        h.Run(60_000);
        h.PowerKw = 0;
        h.Run(10_000, -30);
        h.Permit = PermitState.Withdrawn;
        h.Run(120_000, -20);
        Assert.Equal(0.0, h.Ledger.CoolDown.ForcedMaxKPerMin);
        Assert.InRange(h.Ledger.CoolDown.LedMaxKPerMin, 21, 22);
        Assert.Equal(0, h.Ledger.CoolDown.LedAboveCapMs);
    }

    [Fact]
    public void A_window_with_a_forced_moment_is_forced_even_after_the_permit_came_back()
    {
        var h = new History { PowerKw = 27, OutletC = 650 };
        h.Run(60_000);
        (h.PowerKw, h.Permit) = (0, PermitState.Withdrawn);
        h.Run(10_000, -300);
        h.Permit = PermitState.Permitted;
        h.Run(120_000);
        Assert.Equal(0.0, h.Ledger.CoolDown.LedMaxKPerMin, 6);
        Assert.Equal(50.0, h.Ledger.CoolDown.ForcedMaxKPerMin, 0);
    }

    [Fact]
    public void A_blower_lowered_while_removed_power_still_flows_is_caught_once_per_removal()
    {
        var h = new History { PowerKw = 27 };
        h.Run(1000);
        (h.PowerKw, h.Permit) = (18, PermitState.Withdrawn);
        h.Run(1000);
        Assert.Equal(0, h.Ledger.Power.BlowerLoweredUnderPower);
        h.Blower = 40;
        h.Run(1000);
        h.Blower = 30;
        h.Run(1000);
        Assert.Equal(1, h.Ledger.Power.BlowerLoweredUnderPower);
        Assert.Equal(2005, h.Ledger.Power.BlowerLoweredAtMs);
        Assert.Equal(3000, h.Ledger.Power.PoweredWithoutPermitMs);
    }

    [Fact]
    public void A_blower_raised_and_lowered_again_under_removed_power_is_caught_too()
    {
        var h = new History { PowerKw = 27 };
        h.Run(1000);
        (h.PowerKw, h.Permit) = (18, PermitState.Withdrawn);
        h.Run(1000);
        h.Blower = 100;
        h.Run(1000);
        h.Blower = 85;
        h.Run(5);
        Assert.Equal(1, h.Ledger.Power.BlowerLoweredUnderPower);
    }

    [Fact]
    public void A_blower_lowered_with_power_proved_off_or_while_permitted_is_right()
    {
        var h = new History { PowerKw = 27 };
        h.Run(1000);
        h.Blower = 70;
        h.Run(1000);
        (h.PowerKw, h.Permit) = (0, PermitState.Withdrawn);
        h.Run(1000);
        h.Blower = 30;
        h.Run(1000);
        Assert.Equal(0, h.Ledger.Power.BlowerLoweredUnderPower);
    }

    [Fact]
    public void The_shared_supply_keeps_its_highest_sum_and_the_time_above_its_limit()
    {
        var site = new SiteLedger(45);
        site.Observe(5, 5, 44);
        site.Observe(10, 5, 49);
        site.Observe(15, 5, 45.5);
        site.Observe(20, 5, 45);
        Assert.Equal((49.0, 10L, 10L), (site.MaxKw, site.MaxAtMs, site.AboveLimitMs));
    }

    [Fact]
    public void Bounded_lists_count_what_they_drop()
    {
        var h = new History();
        for (int i = 0; i < PowerRecord.TransitionsMax + 10; i++)
        {
            h.PowerKw = i % 2 == 0 ? 10 : 0;
            h.Run(5);
        }

        Assert.Equal(PowerRecord.TransitionsMax, h.Ledger.Power.Transitions.Count);
        Assert.Equal(10, h.Ledger.Report().EntriesDropped);
    }

    [Fact]
    public void A_window_with_gas_that_stood_still_is_not_judged_as_led()
    {
        var h = new History { PowerKw = 0, Flow = 140, OutletC = 200 };
        h.Run(1000);
        h.Flow = 6.9;
        for (int i = 0; i < 120; i++)
        {
            h.OutletC -= 1;
            h.Run(1000);
        }

        Assert.Equal(0, h.Ledger.CoolDown.LedMaxKPerMin);
        h.Flow = 7;
        for (int i = 0; i < 121; i++)
        {
            h.OutletC -= 0.5;
            h.Run(1000);
        }

        Assert.Equal(30, h.Ledger.CoolDown.LedMaxKPerMin, 0.6);
    }
}
