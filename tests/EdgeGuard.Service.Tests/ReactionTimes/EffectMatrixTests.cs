using EdgeGuard.Core.Electrical;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Core.Thermal;
using EdgeGuard.Service.Configuration;
using EdgeGuard.Service.ReactionTimes;
using EdgeGuard.Service.Tests.Configuration;

namespace EdgeGuard.Service.Tests.ReactionTimes;

public sealed class EffectMatrixTests
{
    private static readonly SiteConfiguration PilotHall = SiteLoader.Load(SiteFolders.PilotHall).Site!;

    [Trait("requirement", "MATX-1")]
    [Fact]
    public void Every_function_of_every_unit_has_a_row_with_its_reaction()
    {
        IReadOnlyList<EffectRow> rows = EffectMatrix.Of(PilotHall);
        Assert.Equal(2 * FunctionIds.EvaluatedEachScan, rows.Count);
        foreach (EffectRow row in rows)
        {
            UnitTable unit = PilotHall.Table.Units.Single(u => u.Name == row.Unit);
            bool absent = (row.Function, unit) is (FunctionId.Phas, { Phas: null }) or (FunctionId.Leak, { Leak: null }) or (FunctionId.Bala, { Bala: null });
            string expected = FunctionIds.ReactionOf(row.Function) switch
            {
                _ when absent => "–",
                _ when row.Function == FunctionId.Bala && unit.Bala is { ControlledShutdown: false } => "alarm",
                Reaction.Removal => "removal",
                Reaction.Controlled => "controlled shutdown",
                _ => "alarm",
            };
            Assert.Equal(expected, row.Reaction);
            Assert.Equal(absent, row.Cause is "not configured for this unit");
            Assert.DoesNotContain("see docs", row.Cause, StringComparison.Ordinal);
            Assert.Equal(EffectMatrix.Paths.Count, row.Effects.Count);
            Assert.Equal(expected is "removal", row.Effects[0] == "0");
        }
    }

    // Tables as a site would give them.
    [Fact]
    public void Phases_leakage_and_balance_are_told_where_they_are_configured()
    {
        UnitTable unit = PilotHall.Table.Units[0] with
        {
            Phas = new PhaseTable { Connection = HeaterConnection.Star, BlockMs = 1_000, HardPercent = 30, MildPercent = 10, HardDelayMs = 500, MildDelayMs = 10_000, NoiseAmpere = 0.5 },
            Leak = new LeakTable { LeakageLimitMilliampere = 30, InsulationLimitKiloohm = 50, DelayMs = 2_000 },
            Bala = new BalanceTable { Balance = new EnergyBalanceTable { Gas = Gas.Nitrogen, RatedPowerKw = 36, BlockScans = 600, ScanSeconds = 0.1, StoredKJPerK = 12, LossMaxKwPerK = 0.01 } },
            Signals = [.. PilotHall.Table.Units[0].Signals, .. new[] { SignalRole.CurrentL1, SignalRole.EarthLeakage }.Select(r => PilotHall.Table.Units[0].Signals[0] with { Role = r })],
        };
        SiteConfiguration site = PilotHall with
        {
            Table = PilotHall.Table with { Units = [unit, PilotHall.Table.Units[1]] },
            Units = [PilotHall.Units[0] with { SharedWithControl = [.. PilotHall.Units[0].SharedWithControl, SignalRole.CurrentL1] }, PilotHall.Units[1]],
        };
        EffectRow phas = Row(site, "N-1", FunctionId.Phas);
        Assert.StartsWith("line dead, open leg or unbalance ≥ 30 %; mild from 10 % (controlled)", phas.Cause, StringComparison.Ordinal);
        Assert.Equal(("removal", "yes: read through the controller", "0"), (phas.Reaction, phas.SharesWithControl, phas.Effects[0]));
        EffectRow leak = Row(site, "N-1", FunctionId.Leak);
        Assert.Equal(("earth leakage ≥ 30 mA or insulation ≤ 50 kΩ", "2 s", "controlled shutdown", "yes: read through the controller"), (leak.Cause, leak.Delay, leak.Reaction, leak.SharesWithControl));
        EffectRow bala = Row(site, "N-1", FunctionId.Bala);
        Assert.Equal(("alarm", "in part", "2 blocks"), (bala.Reaction, bala.SharesWithControl, bala.Delay));
        Assert.All(bala.Effects, e => Assert.Equal("–", e));
    }

    [Fact]
    public void A_row_holds_the_figures_of_the_site()
    {
        EffectRow flow = Row(PilotHall, "A-1", FunctionId.Flow);
        Assert.StartsWith("gas flow < 60 kg/h", flow.Cause, StringComparison.Ordinal);
        Assert.Equal("0.5 s", flow.Delay);
        Assert.Equal(["0", "0", "0", "manual, 0 %", "0 °C", "kept until power is proved off"], flow.Effects);
        Assert.Equal("dry fire: 4.29 s of 20.45 s", flow.ReactionTime);
        Assert.Equal(["–", "–", "–", "–", "led down", "kept until power is proved off"], Row(PilotHall, "A-1", FunctionId.Jrnl).Effects);
    }

    // N-1 reads its temperatures through the controller and its flow from a meter of its own.
    [Trait("requirement", "MATX-1")]
    [Theory]
    [InlineData(FunctionId.Flow, "no")]
    [InlineData(FunctionId.Elem, "yes: read through the controller")]
    [InlineData(FunctionId.Outl, "yes: read through the controller")]
    [InlineData(FunctionId.Sens, "in part")]
    [InlineData(FunctionId.Comm, "–")]
    public void What_is_shared_with_control_is_said(FunctionId function, string shares) =>
        Assert.Equal(shares, Row(PilotHall, "N-1", function).SharesWithControl);

    [Fact]
    public void What_may_be_bypassed_how_the_flow_limit_comes_about_and_how_sensors_vote_is_said()
    {
        UnitTable unit = PilotHall.Table.Units[0] with
        {
            Bypass = new BypassTable { Functions = [FunctionId.Flow, FunctionId.Comm], MaxMinutes = 60 },
            Force = new ForceTable { MaxMinutes = 15, Signals = [new(SignalRole.GasFlow, 100, 160), new(SignalRole.ElementTemperature, 20, 600), new(SignalRole.Power, 0, 1)] },
            Voting = [new VotingTable { Role = SignalRole.ElementTemperature, Scheme = VotingScheme.OneOutOfTwo, DeviationMax = 20, DeviationDelayMs = 1_000, DegradedMs = 0 }],
            Flow = PilotHall.Table.Units[0].Flow with { PowerTerm = true, Curve = [new FlowCurvePoint(20, 70), new FlowCurvePoint(650, 110)] },
        };
        SiteConfiguration site = PilotHall with { Table = PilotHall.Table with { Units = [unit, PilotHall.Table.Units[1]] } };
        Assert.Equal(
            ["GasFlow 100 to 160, ElementTemperature 20 to 600, up to 15 min", "ElementTemperature 20 to 600, up to 15 min", "no", "no"],
            new[] { FunctionId.Flow, FunctionId.Elem, FunctionId.Resd, FunctionId.Comm }.Select(f => Row(site, "N-1", f).Force));
        Assert.Equal(["up to 60 min", "no", "no"], new[] { FunctionId.Flow, FunctionId.Elem, FunctionId.Comm }.Select(f => Row(site, "N-1", f).Bypass));
        Assert.StartsWith("gas flow < the highest of 70 kg/h, curve over temperature, P/Δh while", Row(site, "N-1", FunctionId.Flow).Cause, StringComparison.Ordinal);
        Assert.EndsWith(", 1oo2", Row(site, "N-1", FunctionId.Elem).Cause, StringComparison.Ordinal);
        Assert.DoesNotContain("oo", Row(site, "N-1", FunctionId.Outl).Cause, StringComparison.Ordinal);
    }

    [Fact]
    public void A_flow_meter_at_the_controller_is_shared_too()
    {
        SiteLoadResult one = SiteLoader.Load(Path.Combine(SiteFolders.Golden, "class-c-enforce"), new SiteLoadOptions { Mode = UnitMode.Observe, Today = new DateOnly(2026, 6, 1) });
        Assert.Equal("yes: read through the controller", Row(one.Site!, "H-1", FunctionId.Flow).SharesWithControl);
    }

    [Fact]
    public void A_path_that_the_site_does_not_have_is_no_effect()
    {
        var commands = PilotHall.Commands.ToArray();
        commands[(int)CommandRole.Relay] = null;
        commands[(int)CommandRole.ManualOutput] = null;
        SiteConfiguration site = PilotHall with { Commands = commands };
        Assert.Equal(["0", "–", "0", "–", "0 °C", "kept until power is proved off"], Row(site, "N-1", FunctionId.Flow).Effects);
        Assert.Equal("0", Row(site, "A-1", FunctionId.Flow).Effects[1]);
    }

    [Fact]
    public void A_unit_that_observes_writes_nothing()
    {
        SiteConfiguration observing = SiteLoader.Load(SiteFolders.Minimal).Site!;
        foreach (EffectRow row in EffectMatrix.Of(observing))
        {
            Assert.True(row.Reaction.StartsWith("would: ", StringComparison.Ordinal) || row.Cause is "not configured for this unit");
            Assert.All(row.Effects, e => Assert.Equal("–", e));
            Assert.Equal("–", row.ReactionTime);
        }

        Assert.Contains(observing.Notes, n => n.Contains("it is not known whether any function is in time", StringComparison.Ordinal));
    }

    [Trait("requirement", "FAST-4")]
    [Fact]
    public void Text_and_csv_hold_every_row_and_the_caveat()
    {
        IReadOnlyList<EffectRow> rows = EffectMatrix.Of(PilotHall);
        string[] text = EffectMatrixText.Text(rows).Split('\n');
        string[] csv = EffectMatrixText.Csv(rows).Split('\n');
        Assert.Equal(rows.Count + 4, text.Length);
        Assert.Equal(rows.Count + 3, csv.Length);
        Assert.Equal("unit,function,cause,delay,reaction,token,relay,enable,\"manual, output\",setpoint,blower,bypass,forcible signals,shares with control,reaction time", csv[0]);
        Assert.Contains("Computed from entered data, not a validation", text[^2], StringComparison.Ordinal);
        Assert.Contains("Computed from entered data, not a validation", csv[^2], StringComparison.Ordinal);
    }

    [Fact]
    public void A_cell_is_never_taken_for_a_formula_or_split()
    {
        var row = new EffectRow("=1+1", FunctionId.Flow, "a,\"b\"", "", "", ["", "", "", "", "", ""], "", "", "", "");
        Assert.Contains("'=1+1,FLOW,\"a,\"\"b\"\"\",", EffectMatrixText.Csv([row]), StringComparison.Ordinal);
    }

    private static EffectRow Row(SiteConfiguration site, string unit, FunctionId function) =>
        EffectMatrix.Of(site).Single(r => r.Unit == unit && r.Function == function);
}
