using EdgeGuard.Core.Electrical;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Core.Thermal;
using EdgeGuard.Service.Configuration.Drafts;

namespace EdgeGuard.Service.Configuration.Building;

/// <summary>Makes the tables of the functions that a site fits only where it has the signals: curve, voting, PHAS, LEAK, BALA.</summary>
internal static class ProtectionBuilder
{
    public static FlowTable Flow(UnitDraft unit) => new()
    {
        LimitKgPerHour = unit.Flow.Number("limitKgPerHour"),
        AfterCoolingKgPerHour = unit.AfterCoolingKgPerHour,
        DelayMs = (int)unit.Flow.Number("delayMs"),
        ProvingKgPerHour = unit.Flow.Number("provingKgPerHour"),
        PreFlowMs = (int)unit.Flow.Number("preFlowMs"),
        HotPreFlowMs = (int)unit.Flow.Number("hotPreFlowMs"),
        HysteresisKgPerHour = unit.Flow.Number("hysteresisKgPerHour"),
        Curve = unit.FlowCurve,
        PowerTerm = unit.Flow.Flag("powerTerm"),
        InletHighestC = unit.Flow.Number("inletHighestC"),
        StoredHeatKjPerK = unit.Flow.Number("storedHeatKjPerK"),
        SetbackMs = (int)unit.Flow.Number("setbackMs"),
    };

    public static SensorTable Sensors(UnitDraft unit, double scanMs) => new()
    {
        FrozenMs = (int)unit.Sens.Number("frozenMs"),
        ExcitationPercent = unit.Sens.Number("excitationPercent"),
        NoiseMs = (int)unit.Sens.Number("noiseMs"),
        NoisePercent = unit.Sens.Number("noisePercent"),
        SlopeMaxKPerSecond = unit.Sens.Number("slopeMaxKPerSecond", double.PositiveInfinity),
        Model = Model(unit, scanMs),
    };

    public static IReadOnlyList<VotingTable> Voting(UnitDraft unit) =>
        [.. UnitDraft.VotedRoles.Where(r => unit.Voting.Text(r.Key) is not null).Select(r => Voting(unit, r.Key, r.Role))];

    public static ForceTable Force(UnitDraft unit) => new()
    {
        MaxMinutes = (int)unit.Force.Number("maxMinutes"),
        StartWhileForced = unit.Force.Flag("startWhileForced"),
        Signals = [.. unit.Forcible.Select(f => new ForcibleSignal(f.Role.Role, f.Range.Number("min"), f.Range.Number("max")))],
    };

    public static PhaseTable? Phases(UnitDraft unit) => !unit.Phas.Stated ? null : new PhaseTable
    {
        Connection = unit.Phas.Text("connection") is "delta" ? HeaterConnection.Delta : HeaterConnection.Star,
        DemandPercent = unit.Phas.Number("demandPercent"),
        BlockMs = (int)unit.PhaseBlockMs,
        HardPercent = unit.Phas.Number("hardPercent"),
        MildPercent = unit.Phas.Number("mildPercent"),
        HardDelayMs = (int)unit.Phas.Number("hardDelayMs"),
        MildDelayMs = (int)unit.Phas.Number("mildDelayMs"),
        NoiseAmpere = unit.Phas.Number("noiseAmpere"),
        Alloy = unit.Phas.Text("alloy"),
    };

    public static LeakTable? Leak(UnitDraft unit) => !unit.Leak.Stated ? null : new LeakTable
    {
        LeakageAlarmMilliampere = unit.Leak.Number("leakageAlarmMilliampere", double.PositiveInfinity),
        LeakageLimitMilliampere = unit.Leak.Number("leakageLimitMilliampere", double.PositiveInfinity),
        InsulationAlarmKiloohm = unit.Leak.Number("insulationAlarmKiloohm"),
        InsulationLimitKiloohm = unit.Leak.Number("insulationLimitKiloohm"),
        TrendDays = (int)unit.Leak.Number("trendDays"),
        DelayMs = (int)unit.Leak.Number("delayMs"),
    };

    public static BalanceTable? Balance(UnitDraft unit, double scanMs) => !unit.Bala.Stated ? null : new BalanceTable
    {
        Blocks = (int)unit.Bala.Number("blocks"),
        ControlledShutdown = unit.Bala.Flag("controlledShutdown"),
        Balance = new EnergyBalanceTable
        {
            Gas = unit.Gas,
            RatedPowerKw = unit.RatedPowerKw,
            BlockScans = (int)Math.Ceiling(unit.Bala.Number("blockMs") / scanMs),
            ScanSeconds = scanMs / 1_000,
            StoredKJPerK = unit.Bala.Number("storedHeatKjPerK"),
            LossMaxKwPerK = unit.Bala.Number("lossMaxKwPerK"),
            AmbientC = unit.Bala.Number("ambientC"),
            SteadyK = unit.Bala.Number("steadyK"),
            LearnBlocks = (int)unit.Bala.Number("learnBlocks"),
            PowerPercent = unit.Bala.Number("powerPercent"),
            FlowPercent = unit.Bala.Number("flowPercent"),
            TemperatureK = unit.Bala.Number("temperatureK"),
        },
    };

    /// <summary>Blocks of a minute: many firing cycles, and short beside the time in which nothing may move.</summary>
    private static ModelBandTable? Model(UnitDraft unit, double scanMs) => !unit.Model.Stated ? null : new ModelBandTable
    {
        Points = unit.ModelPoints,
        BlockScans = (int)Math.Ceiling(60_000 / scanMs),
        SteadyBlocks = (int)unit.Model.Number("steadyMinutes"),
        RatedPowerKw = unit.RatedPowerKw,
        SteadyK = unit.Model.Number("steadyK"),
        PowerPercent = unit.Model.Number("powerPercent"),
        FlowPercent = unit.Model.Number("flowPercent"),
        TemperatureK = unit.Model.Number("temperatureK"),
        ModelPercent = unit.Model.Number("modelPercent"),
    };

    private static VotingTable Voting(UnitDraft unit, string key, SignalRole role) => new()
    {
        Role = role,
        Scheme = unit.Voting.Text(key) switch
        {
            "2oo2" => VotingScheme.TwoOutOfTwo,
            "2oo3" => VotingScheme.TwoOutOfThree,
            _ => VotingScheme.OneOutOfTwo,
        },
        DeviationMax = role == SignalRole.GasFlow ? unit.FlowDeviationKgPerHour : unit.Voting.Number("deviationK"),
        DeviationDelayMs = (int)unit.Voting.Number("deviationDelayMs"),
        DegradedMs = (int)unit.Voting.Number("degradedMinutes") * 60_000,
    };
}
