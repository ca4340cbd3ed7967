using EdgeGuard.Core.Alarms;
using EdgeGuard.Core.Electrical;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Core.Thermal;

namespace EdgeGuard.Core.Tests.Interlocks;

/// <summary>
/// Builds site tables for tests: the two heaters of the demo site, each with three poll blocks (controller holding,
/// controller input, meter input). Everything can be changed with <c>with</c> expressions afterwards.
/// </summary>
public static class TestSite
{
    public const int ScanMs = 100;
    public const int BlocksPerUnit = 4;
    public const int HoldingWords = 9;
    public const int InputWords = 12;
    public const int MeterWords = 5;

    /// <summary>Words of the block of further sensors, which only <see cref="X1"/> reads.</summary>
    public const int FurtherWords = 24;

    public static SiteTable Of(params Func<int, UnitTable>[] units) => new()
    {
        Name = "test",
        ScanMs = ScanMs,
        BlockWordCounts = [.. units.SelectMany(_ => new[] { HoldingWords, InputWords, MeterWords, FurtherWords })],
        Units = [.. units.Select((make, index) => make(index))],
    };

    /// <summary>Nitrogen heater, 36 kW, 650 °C.</summary>
    public static Func<int, UnitTable> N1(UnitMode mode = UnitMode.Enforce) => index => new UnitTable
    {
        Name = "N-1",
        Mode = mode,
        FinalElement = FinalElementClass.RelayWithWatchdog,
        RatedPowerKw = 36,
        SetpointC = 650,
        WatchdogMs = 2000,
        CommLimitMs = 1000,
        SensDelayMs = 1000,
        Signals = Signals(index),
        Commands = Commands(),
        Bypass = new BypassTable { Functions = [FunctionId.Flow, FunctionId.Elem, FunctionId.Outl, FunctionId.Sens, FunctionId.Hard], MaxMinutes = 60 },
        Force = new ForceTable
        {
            MaxMinutes = 15,
            Signals =
            [
                new ForcibleSignal(SignalRole.ElementTemperature, 0, 900), new ForcibleSignal(SignalRole.OutletTemperature, 0, 800),
                new ForcibleSignal(SignalRole.GasFlow, 0, 200), new ForcibleSignal(SignalRole.InletTemperature, 0, 100),
                new ForcibleSignal(SignalRole.Power, 0, 36), // the core refuses it all the same
            ],
        },
        Flow = new FlowTable { LimitKgPerHour = 70, AfterCoolingKgPerHour = 45, DelayMs = 500, ProvingKgPerHour = 130, PreFlowMs = 30_000, HotPreFlowMs = 10_000 },
        Elem = new TemperatureTable { AlarmC = 800, TripC = 850, DelayMs = 500, HysteresisK = 5 },
        Outl = new TemperatureTable { AlarmC = 680, TripC = 720, DelayMs = 500, HysteresisK = 5 },
        Nors = new NoResponseTable { PowerPercent = 20, DelayMs = 20_000, SlopeKPerMin = 5, FallingKPerMin = -60 },
        Resd = new ResidualTable { LimitPercent = 3, BlankingMs = 1000, ProofMs = 1000 },
        Cool = new CoolTable
        {
            RampUpKPerMin = 60,
            RampDownKPerMin = 30,
            Signal = SignalRole.OutletTemperature,
            WindowMs = 60_000,
            ToleranceKPerMin = 3,
            HeatAlarmKPerMin = 120,
            AfterCoolingBelowC = 150,
            BlowerRunPercent = 100,
            BlowerAfterPercent = 40,
            BlowerEasePercentPerSecond = 2,
        },
    };

    /// <summary>The nitrogen heater with everything that can be fitted: three sensors of a role, currents, leakage, reset button, output limit.</summary>
    public static Func<int, UnitTable> X1(VotingScheme scheme = VotingScheme.TwoOutOfThree) => index =>
    {
        UnitTable n1 = N1()(index);
        return n1 with
        {
            Name = "X-1",
            Gas = Gas.Nitrogen,
            Signals = [.. n1.Signals, .. Further((index * BlocksPerUnit) + 3)],
            Commands = [.. n1.Commands, new CommandTable { Role = CommandRole.OutputLimit, ReadBack = SignalRole.OutputLimit, Tolerance = 0.1 }],
            Voting =
            [
                Vote(SignalRole.ElementTemperature, scheme, 20), Vote(SignalRole.OutletTemperature, scheme, 20), Vote(SignalRole.GasFlow, scheme, 7),
            ],
            Phas = new PhaseTable { Connection = HeaterConnection.Star, BlockMs = 1_000, HardPercent = 40, MildPercent = 15, HardDelayMs = 500, MildDelayMs = 10_000, NoiseAmpere = 1 },
            Leak = new LeakTable { LeakageAlarmMilliampere = 5, LeakageLimitMilliampere = 15, InsulationAlarmKiloohm = 1_000, InsulationLimitKiloohm = 300, DelayMs = 2_000 },
            Bala = new BalanceTable
            {
                ControlledShutdown = true,
                Balance = new EnergyBalanceTable { Gas = Gas.Nitrogen, RatedPowerKw = 36, BlockScans = 100, ScanSeconds = 0.1, StoredKJPerK = 14.6, LossMaxKwPerK = 0.01, LearnBlocks = 5 },
            },
            Flow = n1.Flow with
            {
                Curve = [new FlowCurvePoint(100, 70), new FlowCurvePoint(650, 110)],
                PowerTerm = true,
                StoredHeatKjPerK = 14.6,
                HysteresisKgPerHour = 2,
                SetbackMs = 5_000,
            },
            RemoteReset = true,
            Force = new ForceTable
            {
                MaxMinutes = 60,
                Signals =
                [
                    .. n1.Force.Signals, new ForcibleSignal(SignalRole.ElementTemperature2, 0, 900), new ForcibleSignal(SignalRole.CurrentL1, 0, 100),
                    new ForcibleSignal(SignalRole.CurrentL2, 0, 100), new ForcibleSignal(SignalRole.EarthLeakage, 0, 100), new ForcibleSignal(SignalRole.Insulation, 0, 20_000),
                ],
            },
        };
    };

    /// <summary>The nitrogen heater whose sensors are also judged by how they move; the temperatures of a test cabinet stand still otherwise.</summary>
    public static Func<int, UnitTable> F1() => index => N1()(index) with { Name = "F-1", Sens = new SensorTable { FrozenMs = 20_000, SlopeMaxKPerSecond = 30 } };

    /// <summary>The nitrogen heater of a site that lets it start while a signal is forced.</summary>
    public static Func<int, UnitTable> StartsForced() => index => N1()(index) with { Name = "N-2", Force = N1()(index).Force with { StartWhileForced = true } };

    /// <summary>The nitrogen heater with what it showed at commissioning: 60 K at 100 kg/h and 18 kW, 80 K at 140 kg/h and 25 kW.</summary>
    public static Func<int, UnitTable> M1() => index => N1()(index) with
    {
        Name = "M-1",
        Sens = new SensorTable { Model = new ModelBandTable { Points = [new ModelPoint(100, 18, 60), new ModelPoint(140, 25, 80)], BlockScans = 100, SteadyBlocks = 3, RatedPowerKw = 36 } },
    };

    /// <summary>The nitrogen heater of a site that lets alarms be hidden: those that only alarm and that of FLOW, for an hour at most or out of service.</summary>
    public static Func<int, UnitTable> S1() => index => N1()(index) with
    {
        Name = "S-1",
        Shelf = new ShelfTable { MaxMinutes = 60, OutOfService = true, Marked = [FunctionId.Flow] },
    };

    /// <summary>Air dryer, 15 kW, 220 °C.</summary>
    public static Func<int, UnitTable> A1(UnitMode mode = UnitMode.Enforce) => index =>
    {
        UnitTable n1 = N1(mode)(index);
        return n1 with
        {
            Name = "A-1",
            RatedPowerKw = 15,
            SetpointC = 220,
            Flow = n1.Flow with { LimitKgPerHour = 60 },
            Elem = n1.Elem with { AlarmC = 350, TripC = 450 },
            Outl = n1.Outl with { AlarmC = 240, TripC = 260 },
            Cool = n1.Cool with { RampUpKPerMin = 30, AfterCoolingBelowC = 80 },
        };
    };

    private static VotingTable Vote(SignalRole role, VotingScheme scheme, double deviation) =>
        new() { Role = role, Scheme = scheme, DeviationMax = deviation, DeviationDelayMs = 1_000, DegradedMs = scheme == VotingScheme.OneOutOfTwo ? 0 : 60_000 };

    private static IEnumerable<SignalTable> Further(int block)
    {
        for (SignalRole role = SignalRole.ElementTemperature2; role <= SignalRole.Insulation; role++)
        {
            double max = role is SignalRole.GasFlow2 or SignalRole.GasFlow3 ? 400 : role >= SignalRole.CurrentL1 ? 100_000 : 1_400;
            yield return Real(role, block, FurtherWord(role), WordOrder.Abcd, -50, max);
        }

        yield return Word(SignalRole.ResetInput, block, 22, WordType.UInt16, 1, 0, 1);
        yield return Word(SignalRole.OutputLimit, block, 23, WordType.Int16, 0.1, 0, 100);
    }

    /// <summary>Where a further sensor stands in its block.</summary>
    public static int FurtherWord(SignalRole role) => ((int)role - (int)SignalRole.ElementTemperature2) * 2;

    private static SignalTable[] Signals(int unit)
    {
        int holding = unit * BlocksPerUnit;
        int input = holding + 1;
        int meter = holding + 2;
        return
        [
            Real(SignalRole.ElementTemperature, input, 0, WordOrder.Abcd, -50, 1400),
            Real(SignalRole.OutletTemperature, input, 2, WordOrder.Abcd, -50, 1300),
            Real(SignalRole.InletTemperature, input, 4, WordOrder.Abcd, -50, 200),
            Real(SignalRole.Power, input, 6, WordOrder.Abcd, -1, 60),
            Word(SignalRole.Output, input, 8, WordType.Int16, 0.1, -1, 101),
            Real(SignalRole.WorkingSetpoint, input, 9, WordOrder.Abcd, -50, 1400),
            Bit(SignalRole.KeySupervised, input, 11, 0),
            Bit(SignalRole.ChainHealthy, input, 11, 1),
            Bit(SignalRole.ContactorClosed, input, 11, 2),
            Bit(SignalRole.WatchdogAlive, input, 11, 3),
            Real(SignalRole.GasFlow, meter, 0, WordOrder.Cdab, -5, 400),
            Word(SignalRole.Heartbeat, holding, 0, WordType.UInt16, 1, 0, 65_535),
            Word(SignalRole.Relay, holding, 1, WordType.UInt16, 1, 0, 1),
            Word(SignalRole.Enable, holding, 2, WordType.UInt16, 1, 0, 1),
            Word(SignalRole.ManualMode, holding, 3, WordType.UInt16, 1, 0, 1),
            Word(SignalRole.ManualOutput, holding, 4, WordType.Int16, 0.1, 0, 100),
            Real(SignalRole.RemoteSetpoint, holding, 5, WordOrder.Abcd, -50, 1400),
            Word(SignalRole.BlowerDemand, holding, 7, WordType.Int16, 0.1, 0, 100),
            Word(SignalRole.WatchdogTime, holding, 8, WordType.UInt16, 1, 0, 65_535),
        ];
    }

    private static CommandTable[] Commands() =>
    [
        new() { Role = CommandRole.Heartbeat, ReadBack = SignalRole.Heartbeat, Tolerance = 0 },
        new() { Role = CommandRole.Relay, ReadBack = SignalRole.Relay, Tolerance = 0 },
        new() { Role = CommandRole.Enable, ReadBack = SignalRole.Enable, Tolerance = 0 },
        new() { Role = CommandRole.ManualMode, ReadBack = SignalRole.ManualMode, Tolerance = 0 },
        new() { Role = CommandRole.ManualOutput, ReadBack = SignalRole.ManualOutput, Tolerance = 0.05 },
        new() { Role = CommandRole.Setpoint, ReadBack = SignalRole.RemoteSetpoint, Tolerance = 0.05 },
        new() { Role = CommandRole.BlowerDemand, ReadBack = SignalRole.BlowerDemand, Tolerance = 0.06 },
    ];

    private static SignalTable Real(SignalRole role, int block, int word, WordOrder order, double min, double max) => new()
    {
        Role = role, Block = block, WordOffset = word, Type = WordType.Float32, Order = order, RangeMin = min, RangeMax = max, StaleMs = 500, HoldMs = 5000,
    };

    private static SignalTable Word(SignalRole role, int block, int word, WordType type, double scale, double min, double max) => new()
    {
        Role = role, Block = block, WordOffset = word, Type = type, Scale = scale, RangeMin = min, RangeMax = max, StaleMs = 500, HoldMs = 5000,
    };

    private static SignalTable Bit(SignalRole role, int block, int word, int bit) => new()
    {
        Role = role, Block = block, WordOffset = word, Type = WordType.Bit, Bit = bit, RangeMin = 0, RangeMax = 1, StaleMs = 500, HoldMs = 5000,
    };
}
