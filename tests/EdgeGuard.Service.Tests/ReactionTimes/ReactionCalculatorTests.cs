using CsCheck;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Service.ReactionTimes;

namespace EdgeGuard.Service.Tests.ReactionTimes;

public sealed class ReactionCalculatorTests
{
    private static readonly ReactionOptions Options = new()
    {
        Stated = true,
        MassKg = 3.8,
        HeatCapacityKJPerKgK = 0.68,
        WireMm = double.NaN,
        SurfaceLoadWPerCm2 = double.NaN,
        DensityKgPerM3 = 7_100,
        SensorOnWire = false,
        ElementLagMs = 3_000,
        OutletLagMs = 5_000,
        MeterDampingMs = 800,
        ContactorMs = 100,
        LostAnswers = 1,
        SupplyPercent = 110,
        ElementOverGasK = 93,
    };

    private static readonly ReactionInput Input = new()
    {
        Options = Options,
        RatedPowerKw = 36,
        ScanMs = 100,
        PollLeadMs = 25,
        AnswerMs = 200,
        StaleMs = 300,
        SensDelayMs = 500,
        WatchdogMs = 2_000,
        FlowLimitKgPerHour = 70,
        FlowRangeKgPerHour = 300,
        FlowDelayMs = 500,
        ElemTripC = 850,
        ElemDelayMs = 0,
        DestructionC = 1_100,
        OutlTripC = 720,
        OutlDelayMs = 500,
        BlankingMs = 1_000,
        ProofMs = 2_000,
    };

    // By hand: 36 · 1.21/(3.8 · 0.68) = 16.86 K/s and 250 K are 14.83 s; 15 · 1.21/(1.5 · 0.55) = 22.0 and 450 K are 20.45 s;
    // 40 · 1.21/(3.6 · 0.68) = 19.77 and 90 K are 4.55 s. 15 kW, 3 kg, 0.65 without the 10 %: 7.69 K/s.
    [Trait("requirement", "FAST-1")]
    [Theory]
    [InlineData(36, 3.8, 0.68, 110, 850, 1100, 14.83)]
    [InlineData(15, 1.5, 0.55, 110, 450, 900, 20.45)]
    [InlineData(40, 3.6, 0.68, 110, 1260, 1350, 4.55)]
    [InlineData(15, 3, 0.65, 100, 450, 900, 58.5)]
    public void Process_safety_time_from_mass(double kw, double kg, double c, double supply, double trip, double destruction, double seconds)
    {
        ReactionInput input = Input with
        {
            RatedPowerKw = kw,
            ElemTripC = trip,
            DestructionC = destruction,
            Options = Options with { MassKg = kg, HeatCapacityKJPerKgK = c, SupplyPercent = supply },
        };
        Assert.Equal(1000 * seconds, Budget(input, ProtectionScenario.DryFire, FunctionId.Flow).AvailableMs, 10.0);
    }

    // By hand: 4 · 60000/(7100 · 700 · 0.003) = 16.1 K/s at rated voltage. With both stated the faster one counts.
    [Fact]
    public void Surface_load_and_mass_give_the_faster_rise()
    {
        ReactionOptions load = Options with { MassKg = double.NaN, WireMm = 3, SurfaceLoadWPerCm2 = 6, HeatCapacityKJPerKgK = 0.7, SupplyPercent = 100 };
        Assert.Equal(16.1, ReactionCalculator.RiseKPerSecond(load, 36), 0.01);
        Assert.Equal(16.1, ReactionCalculator.RiseKPerSecond(load with { MassKg = 100 }, 36), 0.01);
        Assert.Equal(36 / 0.7, ReactionCalculator.RiseKPerSecond(load with { MassKg = 1 }, 36), 0.01);
        Assert.Equal(double.PositiveInfinity, ReactionCalculator.RiseKPerSecond(load with { WireMm = double.NaN }, 36));
    }

    // By hand: 0.8 ln(300/70) = 1.164; poll 0.025; scan 0.1; a value is good until 300 ms, that is 0.275 more than the poll
    // (one lost answer of 200 ms would be 0.2); delay 0.5; write 0.2, contactor 0.1: 2.364 s; with the watchdog of 2 s instead
    // of the write 4.164 s.
    [Trait("requirement", "FAST-2")]
    [Fact]
    public void The_chain_of_flow_holds_every_term()
    {
        ReactionBudget flow = Budget(Input, ProtectionScenario.DryFire, FunctionId.Flow);
        Assert.Equal(2_364, flow.CommandMs, 1.0);
        Assert.Equal(4_164, flow.WorstMs, 1.0);
        Assert.Equal(BudgetTermKind.Watchdog, flow.Dominant.Kind);
        Assert.Equal(BudgetVerdict.InTime, flow.Verdict);
        Assert.Equal("meter damping 1.16 s + poll 0.03 s + scan 0.1 s + value grows stale 0.28 s + delay 0.5 s + watchdog 2 s + contactor 0.1 s", string.Join(" + ", flow.WorstTerms));
    }

    [Trait("requirement", "FAST-2")]
    [Theory]
    [InlineData(501, 600)]
    [InlineData(500, 500)]
    [InlineData(0, 0)]
    public void A_delay_is_rounded_up_to_whole_scans(int delayMs, double countedMs)
    {
        ReactionBudget flow = Budget(Input with { FlowDelayMs = delayMs }, ProtectionScenario.DryFire, FunctionId.Flow);
        Assert.Equal(countedMs, flow.Terms.Single(t => t.Kind == BudgetTermKind.Delay).Ms);
    }

    // A lost answer costs the scan, or the time limit of the answer where that is longer.
    [Trait("requirement", "FAST-2")]
    [Theory]
    [InlineData(100, 200, 3, 600)]
    [InlineData(1_000, 200, 3, 3_000)]
    [InlineData(100, 250, 1, 300)]
    [InlineData(100, 250, 0, 0)]
    public void Lost_answers_count(double scanMs, double answerMs, int lost, double countedMs)
    {
        ReactionInput input = Input with { ScanMs = scanMs, AnswerMs = answerMs, StaleMs = 0, Options = Options with { LostAnswers = lost } };
        Assert.Equal(countedMs, Budget(input, ProtectionScenario.DryFire, FunctionId.Flow).Terms.Single(t => t.Kind == BudgetTermKind.LostAnswers).Ms);
    }

    // A value counts as good until it is stale, however few answers the site counts with; ELEM (no delay of its own) then
    // leaves it to SENS: 0.275 and 0.5.
    [Trait("requirement", "FAST-2")]
    [Theory]
    [InlineData(FunctionId.Flow, 300, 275)]
    [InlineData(FunctionId.Elem, 300, 775)]
    [InlineData(FunctionId.Flow, 60_000, 59_975)]
    public void A_value_that_grows_stale_counts(FunctionId function, double staleMs, double countedMs)
    {
        ReactionInput input = Input with { StaleMs = staleMs, Options = Options with { LostAnswers = 0 } };
        ReactionBudget budget = ReactionCalculator.Of(input).First(b => b.Function == function);
        Assert.Equal(countedMs, budget.Terms.Single(t => t.Kind == BudgetTermKind.Staleness).Ms);
    }

    [Trait("requirement", "FAST-3")]
    [Fact]
    public void A_sheathed_element_sensor_covers_a_runaway_but_no_dry_fire()
    {
        Assert.Equal(BudgetVerdict.NoCover, Budget(Input, ProtectionScenario.DryFire, FunctionId.Elem).Verdict);
        Assert.Equal(BudgetVerdict.InTime, Budget(Input, ProtectionScenario.Runaway, FunctionId.Elem).Verdict);
        ReactionInput onWire = Input with { Options = Options with { SensorOnWire = true } };
        Assert.Equal(BudgetVerdict.InTime, Budget(onWire, ProtectionScenario.DryFire, FunctionId.Elem).Verdict);
    }

    // Half the power of dry fire, no watchdog: the permit is withdrawn already.
    [Fact]
    public void Residual_power_has_twice_the_time_and_no_watchdog()
    {
        ReactionBudget residual = Budget(Input, ProtectionScenario.ResidualPower, FunctionId.Resd);
        Assert.Equal(2, residual.AvailableMs / Budget(Input, ProtectionScenario.DryFire, FunctionId.Flow).AvailableMs, 1e-9);
        Assert.Equal(residual.CommandMs, residual.WorstMs);
        Assert.Equal(3_700, residual.WorstMs, 1e-6);
    }

    // The element is 93 · 1.21 = 112.5 K over the gas when the outlet trips at 720 °C: 267.5 K to 1100 °C.
    [Fact]
    public void Outlet_is_judged_only_with_the_element_over_the_gas()
    {
        Assert.Equal(1000 * 267.47 / 16.857, Budget(Input, ProtectionScenario.Runaway, FunctionId.Outl).AvailableMs, 10.0);
        ReactionInput without = Input with { Options = Options with { ElementOverGasK = double.NaN } };
        Assert.DoesNotContain(ReactionCalculator.Of(without), b => b.Function == FunctionId.Outl);
        Assert.Equal(4, ReactionCalculator.Of(without).Count);
    }

    [Fact]
    public void Without_data_there_is_no_budget()
    {
        Assert.Empty(ReactionCalculator.Of(Input with { Options = Options with { MassKg = double.NaN } }));
        Assert.Empty(ReactionCalculator.Of(Input with { DestructionC = double.NaN }));
        Assert.Empty(ReactionCalculator.Of(Input with { ScanMs = double.NaN }));
        Assert.Empty(ReactionCalculator.Of(Input with { FlowRangeKgPerHour = double.NaN }));
        Assert.Empty(ReactionCalculator.Of(Input with { FlowLimitKgPerHour = 0 }));
    }

    [Trait("requirement", "FAST-1")]
    [Fact]
    public void Verdicts_change_at_half_and_at_the_whole_time()
    {
        ReactionBudget flow = Budget(Input, ProtectionScenario.DryFire, FunctionId.Flow);
        Assert.Equal(BudgetVerdict.InTime, (flow with { AvailableMs = 2 * flow.WorstMs }).Verdict);
        Assert.Equal(BudgetVerdict.Tight, (flow with { AvailableMs = 1.99 * flow.WorstMs }).Verdict);
        Assert.Equal(BudgetVerdict.TooSlow, (flow with { AvailableMs = flow.WorstMs }).Verdict);
        Assert.Equal(BudgetVerdict.TooSlow, (flow with { AvailableMs = double.NaN }).Verdict);
        Assert.Equal(BudgetVerdict.TooSlow, default);
    }

    // A longer term never makes a chain shorter, nor a verdict better.
    [Fact]
    public void More_of_anything_is_never_faster()
    {
        Gen.Select(Gen.Int[0, 7], Gen.Int[1, 20_000]).Sample((which, more) =>
        {
            ReactionInput slower = which switch
            {
                0 => Input with { Options = Options with { ElementLagMs = Options.ElementLagMs + more, OutletLagMs = Options.OutletLagMs + more, MeterDampingMs = Options.MeterDampingMs + more } },
                1 => Input with { Options = Options with { LostAnswers = 1 + more } },
                2 => Input with { Options = Options with { ContactorMs = Options.ContactorMs + more } },
                3 => Input with { FlowDelayMs = 500 + more, ElemDelayMs = more, OutlDelayMs = 500 + more, ProofMs = 2_000 + more },
                4 => Input with { WatchdogMs = 2_000 + more },
                5 => Input with { AnswerMs = 200 + more },
                6 => Input with { StaleMs = 300 + more },
                _ => Input with { PollLeadMs = 25 + more },
            };
            IReadOnlyList<ReactionBudget> before = ReactionCalculator.Of(Input);
            IReadOnlyList<ReactionBudget> after = ReactionCalculator.Of(slower);
            Assert.Equal(5, after.Count);
            for (int i = 0; i < before.Count; i++)
            {
                Assert.True(after[i].WorstMs >= before[i].WorstMs);
                Assert.True(after[i].Verdict <= before[i].Verdict);
            }
        });
    }

    private static ReactionBudget Budget(ReactionInput input, ProtectionScenario scenario, FunctionId function) =>
        ReactionCalculator.Of(input).Single(b => b.Scenario == scenario && b.Function == function);
}
