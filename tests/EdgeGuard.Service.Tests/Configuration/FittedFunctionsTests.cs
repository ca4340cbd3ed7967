using EdgeGuard.Core.Electrical;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Core.Thermal;
using EdgeGuard.Service.Configuration;

namespace EdgeGuard.Service.Tests.Configuration;

/// <summary>Every section of a function that a site may fit reaches the table of the core, value by value.</summary>
public sealed class FittedFunctionsTests
{
    private const string Sections = """
          "flow": { "limitKgPerHour": 60, "provingKgPerHour": 130, "hysteresisKgPerHour": 3, "powerTerm": true, "inletHighestC": 70,
            "storedHeatKjPerK": 14, "setbackMs": 4000,
            "curve": [ { "temperatureC": 100, "flowKgPerHour": 70 }, { "temperatureC": 220, "flowKgPerHour": 90 } ] },
          "voting": { "element": "2oo2", "flow": "1oo2", "deviationK": 12, "deviationDelayMs": 3000, "degradedMinutes": 7 },
          "sens": { "frozenMs": 90000, "excitationPercent": 25, "slopeMaxKPerSecond": 40, "noiseMs": 120000, "noisePercent": 15,
            "model": { "points": [ { "flowKgPerHour": 80, "powerKw": 4, "differenceK": 12 }, { "flowKgPerHour": 150, "powerKw": 8.7, "differenceK": 25 } ],
              "steadyMinutes": 20, "steadyK": 3, "powerPercent": 1.5, "flowPercent": 2.5, "temperatureK": 4, "modelPercent": 6 } },
          "phas": { "connection": "delta", "demandPercent": 30, "hardPercent": 35, "mildPercent": 12, "hardDelayMs": 700, "mildDelayMs": 8000, "noiseAmpere": 2, "alloy": "NiCr 80-20" },
          "leak": { "leakageAlarmMilliampere": 4, "leakageLimitMilliampere": 9, "insulationAlarmKiloohm": 800, "insulationLimitKiloohm": 200, "trendDays": 60, "delayMs": 3000 },
          "bala": { "storedHeatKjPerK": 13, "lossMaxKwPerK": 0.02, "blockMs": 30000, "learnBlocks": 40, "blocks": 3, "controlledShutdown": true,
            "ambientC": 22, "steadyK": 1.5, "powerPercent": 0.5, "flowPercent": 1.5, "temperatureK": 2.5 },
          "bypass": { "maxMinutes": 30, "outl": true, "bala": true },
          "force": { "maxMinutes": 12, "startWhileForced": true, "gasFlow2": { "min": 60, "max": 150 }, "inletTemperature": { "min": 0, "max": 90.5 } },
          "repeatedResetsPerHour": 5,
        """;

    private const string Points = """
        element2, elementTemperature2, input, 20, f32, ABCD, , 1, 0, degC, -20, 1372, 9999, r,
        flow2,    gasFlow2,    input, 22, f32, CDAB, , 1, 0, kg/h, -1, 300, , r,
        l1,       currentL1,   input, 24, f32, ABCD, , 1, 0, mA, 0, 100000, , r,
        l2,       currentL2,   input, 26, f32, ABCD, , 1, 0, A, 0, 100, , r,
        l3,       currentL3,   input, 28, f32, ABCD, , 1, 0, A, 0, 100, , r,
        leakage,  earthLeakage, input, 30, f32, ABCD, , 1, 0, A, 0, 1, , r,
        iso,      insulation,  input, 32, f32, ABCD, , 1, 0, MOhm, 0, 100, , r,
        inlet,    inletTemperature, input, 34, f32, ABCD, , 1, 0, degC, -20, 200, , r,
        button,   resetInput,  input, 36, bit, , 0, 1, 0, , , , , r,

        """;

    [Fact]
    public void Every_section_reaches_the_core()
    {
        UnitTable unit = Load().Table.Units[0];
        Assert.Equal((3.0, true, 70.0, 14.0, 4_000), (unit.Flow.HysteresisKgPerHour, unit.Flow.PowerTerm, unit.Flow.InletHighestC, unit.Flow.StoredHeatKjPerK, unit.Flow.SetbackMs));
        Assert.Equal([new FlowCurvePoint(100, 70), new FlowCurvePoint(220, 90)], unit.Flow.Curve);
        Assert.Equal(Gas.Air, unit.Gas);
        Assert.Equal(new SensorTable { FrozenMs = 90_000, ExcitationPercent = 25, SlopeMaxKPerSecond = 40, NoiseMs = 120_000, NoisePercent = 15 }, unit.Sens with { Model = null });
        Assert.Equal([new ModelPoint(80, 4, 12), new ModelPoint(150, 8.7, 25)], unit.Sens.Model!.Points);
        Assert.Equal(
            new ModelBandTable
            {
                Points = unit.Sens.Model.Points, BlockScans = 600, SteadyBlocks = 20, RatedPowerKw = 15, SteadyK = 3, PowerPercent = 1.5, FlowPercent = 2.5, TemperatureK = 4, ModelPercent = 6,
            },
            unit.Sens.Model);
        Assert.Equal(
            [
                new VotingTable { Role = SignalRole.ElementTemperature, Scheme = VotingScheme.TwoOutOfTwo, DeviationMax = 12, DeviationDelayMs = 3_000, DegradedMs = 420_000 },
                new VotingTable { Role = SignalRole.GasFlow, Scheme = VotingScheme.OneOutOfTwo, DeviationMax = 6, DeviationDelayMs = 3_000, DegradedMs = 420_000 },
            ],
            unit.Voting);
        Assert.Equal(
            new PhaseTable { Connection = HeaterConnection.Delta, DemandPercent = 30, BlockMs = 1_000, HardPercent = 35, MildPercent = 12, HardDelayMs = 700, MildDelayMs = 8_000, NoiseAmpere = 2, Alloy = "NiCr 80-20" },
            unit.Phas);
        Assert.Equal(
            new LeakTable { LeakageAlarmMilliampere = 4, LeakageLimitMilliampere = 9, InsulationAlarmKiloohm = 800, InsulationLimitKiloohm = 200, TrendDays = 60, DelayMs = 3_000 },
            unit.Leak);
        Assert.Equal(
            new BalanceTable
            {
                Blocks = 3,
                ControlledShutdown = true,
                Balance = new EnergyBalanceTable
                {
                    Gas = Gas.Air, RatedPowerKw = 15, BlockScans = 300, ScanSeconds = 0.1, StoredKJPerK = 13, LossMaxKwPerK = 0.02, LearnBlocks = 40,
                    AmbientC = 22, SteadyK = 1.5, PowerPercent = 0.5, FlowPercent = 1.5, TemperatureK = 2.5,
                },
            },
            unit.Bala);
        Assert.Equal((30, 5), (unit.Bypass.MaxMinutes, unit.RepeatedResetsPerHour));
        Assert.Equal([FunctionId.Outl, FunctionId.Bala], unit.Bypass.Functions);
        Assert.Equal((12, true), (unit.Force.MaxMinutes, unit.Force.StartWhileForced));
        Assert.Equal([new ForcibleSignal(SignalRole.InletTemperature, 0, 90.5), new ForcibleSignal(SignalRole.GasFlow2, 60, 150)], unit.Force.Signals);
    }

    [Theory]
    [InlineData(SignalRole.CurrentL1, 0.001)] // mA → A
    [InlineData(SignalRole.CurrentL2, 1)]
    [InlineData(SignalRole.EarthLeakage, 1_000)] // A → mA
    [InlineData(SignalRole.Insulation, 1_000)] // MΩ → kΩ
    public void Units_of_electrical_signals_become_those_of_the_core(SignalRole role, double scale)
    {
        Assert.Equal(scale, Load().Table.Units[0].Signals.Single(s => s.Role == role).Scale);
    }

    [Fact]
    public void Nothing_is_fitted_unless_it_stands_in_the_file()
    {
        UnitTable unit = SiteLoader.Load(SiteFolders.Minimal).Site!.Table.Units[0];
        Assert.Null(unit.Phas);
        Assert.Null(unit.Leak);
        Assert.Null(unit.Bala);
        Assert.Empty(unit.Voting);
        Assert.Null(unit.Sens.Model);
        Assert.Empty(unit.Flow.Curve);
        Assert.Empty(unit.Bypass.Functions);
        Assert.Empty(unit.Force.Signals);
        Assert.False(unit.Force.StartWhileForced);
        Assert.Equal((0, 0, false, 0), (unit.Sens.FrozenMs, unit.Sens.NoiseMs, unit.Flow.PowerTerm, unit.Flow.SetbackMs));
    }

    private static SiteConfiguration Load()
    {
        using var site = new TemporarySite(Path.Combine(SiteFolders.Golden, "flow-unit"));
        site.Replace("cabinet.csv", "m3/h", "kg/h");
        site.Write("cabinet.csv", System.Text.Encoding.UTF8.GetBytes(site.Read("cabinet.csv") + Points));
        site.Replace("site.json", "\"flow\": { \"limitKgPerHour\": 60, \"provingKgPerHour\": 130 },", Sections);
        SiteLoadResult result = SiteLoader.Load(site.Folder, new SiteLoadOptions { Today = new DateOnly(2026, 6, 1) });
        Assert.Equal([], result.Faults.Select(f => f.ToString()));
        return result.Site!;
    }
}
