using EdgeGuard.Core.Alarms;
using EdgeGuard.Core.Electrical;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Core.Thermal;
using EdgeGuard.Records.Kept;

namespace EdgeGuard.Service.Guarding.Watching;

/// <summary>
/// What people are told about one unit beyond the decision itself: alarms with their states, thermal stress, energy and
/// contactor. Runs after the effects of a scan, decides nothing, allocates nothing.
/// </summary>
/// <remarks>
/// Index 0 of the alarms is the trip of the unit; the others are those of the functions. While the unit is tripped, what a
/// trip brings about by itself (no flow, no response, values that go with the link) is suppressed by design, so that the
/// first cause is not drowned. Temperatures, residual power, after-cooling, journal and supply stay audible.
/// </remarks>
internal sealed class UnitWatch
{
    /// <summary>Index of the alarm of the trip.</summary>
    public const int Trip = 0;

    /// <summary>Lower edges of the temperature bands whose hours are counted, °C.</summary>
    public static readonly IReadOnlyList<double> BandsC = [.. KeptRecord.BandsC.Select(static c => (double)c)];

    private const int LegBlockMs = 60_000;

    private readonly AlarmPoint[] _alarms = new AlarmPoint[FunctionIds.Count];
    private readonly AlarmPriority[] _priorities = new AlarmPriority[FunctionIds.Count];
    private readonly UnitTable _table;
    private readonly double _presentAboveKw;
    private bool _leftHot = true;

    public UnitWatch(UnitTable table, int scanMs)
    {
        _table = table;
        _presentAboveKw = table.RatedPowerKw * table.Resd.LimitPercent / 100;
        for (int i = 0; i < _alarms.Length; i++)
        {
            _priorities[i] = i == Trip ? AlarmPriority.High
                : FunctionIds.ReactionOf((FunctionId)i) == Reaction.Alarm ? AlarmPriority.Low
                : AlarmPriority.Medium;
            _alarms[i] = new AlarmPoint(new AlarmTable { IsTrip = i == Trip, IsLatching = false, Priority = _priorities[i], ShelveMostScans = 1 }, scanMs);
        }

        Stress = new StressLedger(new StressTable { ScanSeconds = scanMs / 1000.0, CapKPerMin = table.Cool.RampDownKPerMin, BandsC = BandsC });
        Duty = new DutyCounter(scanMs / 1000.0);
        Legs = NewLegs(table, scanMs);
    }

    public StressLedger Stress { get; }

    public DutyCounter Duty { get; }

    /// <summary>Trend of the legs; null where the site does not state their alloy.</summary>
    public LegWatch? Legs { get; }

    /// <summary>Noise of the sensors as learnt.</summary>
    public LearntFloors Floors { get; private set; }

    /// <summary>UTC since which use is counted, ms; 0 until restored.</summary>
    public long SinceUtcMs { get; private set; }

    /// <summary>Loss of the energy balance as learnt so far.</summary>
    public LearntLoss Loss { get; private set; }

    /// <summary>Counts on from what the runs before left.</summary>
    /// <param name="record">What they left.</param>
    /// <param name="taken">False when there was nothing, so that only the time of the start is in it.</param>
    public void Restore(KeptRecord record, bool taken)
    {
        SinceUtcMs = record.SinceUtcMs;
        _leftHot = !taken || record.Heating;
        Stress.Figures = record.Stress;
        Duty.Figures = record.Duty;
        Legs?.Restore(record.Legs, record.LegDay, record.LegDayBlocks, record.LegCycles);
        for (int i = 0; i < record.BandMs.Length; i++)
        {
            Stress.RestoreBand(i, record.BandMs[i]);
        }
    }

    /// <summary>Puts what is counted into a record to be kept.</summary>
    public void Keep(KeptRecord record)
    {
        record.Stress = Stress.Figures;
        record.Duty = Duty.Figures;
        if (Legs is { } legs)
        {
            (record.LegDay, record.LegDayBlocks, record.LegCycles) = (legs.Day, legs.DayBlocks, legs.CyclesAtReading);
            for (int leg = 0; leg < LegWatch.Legs; leg++)
            {
                record.Legs[leg] = legs.Figures(leg);
            }
        }

        for (int i = 0; i < record.BandMs.Length; i++)
        {
            record.BandMs[i] = Stress.BandMs(i);
        }
    }

    /// <summary>State of the trip (index <see cref="Trip"/>) or of the alarm of a function.</summary>
    public AlarmState this[int index] => _alarms[index].State;

    /// <summary>Takes one scan.</summary>
    public void Step(long scan, long utcMs, UnitDecision decision, bool acknowledged, AlarmRates rates)
    {
        bool tripped = decision.State == UnitState.Tripped && decision.FirstOut is not (FunctionId.None or FunctionId.Start);
        for (int i = 0; i < _alarms.Length; i++)
        {
            // Before the step: nobody has seen yet what begins in this scan.
            if (acknowledged)
            {
                _alarms[i].Acknowledge(scan);
            }

            bool condition = i == Trip ? tripped : IsRaised((FunctionId)i, decision.Functions[i].State);
            _alarms[i].Step(scan, condition, i != Trip && tripped && IsConsequence((FunctionId)i, decision.Functions[i].Finding));
            if (_alarms[i].JustAnnunciated)
            {
                rates.Annunciated(_priorities[i]);
            }
        }

        CountUse(decision);
        FollowLegs(decision, utcMs);
    }

    /// <summary>Alarms that stand or that nobody has acknowledged; the suppressed ones are none of them.</summary>
    public static bool IsWorthTelling(AlarmState state) => state is not (AlarmState.Normal or AlarmState.SuppressedByDesign);

    /// <summary>Power-on and a person's stop are causes, no alarms.</summary>
    private static bool IsRaised(FunctionId function, FunctionState state) =>
        function is not (FunctionId.Start or FunctionId.Stop) && state is FunctionState.Alarm or FunctionState.Demand;

    /// <summary>A forced value is nothing a trip brings about: it stays audible.</summary>
    private static bool IsConsequence(FunctionId function, Finding finding) => finding != Finding.Forced && function
        is FunctionId.Flow or FunctionId.Nors or FunctionId.Sens or FunctionId.Comm or FunctionId.Cmdv or FunctionId.Hard or FunctionId.Cool
            or FunctionId.Phas or FunctionId.Bala;

    private void CountUse(UnitDecision decision)
    {
        // A cabinet that is only observed, or drives itself, leads its own cool-downs. After a start the element cools by
        // force only where the run before ended under power, or nobody knows how it ended.
        bool forced = _table.Enforces && decision.State == UnitState.Tripped && (_leftHot || decision.FirstOut != FunctionId.Start);
        (Loss, Floors) = (decision.Loss, decision.Floors);
        Stress.Add(Value(decision, SignalRole.ElementTemperature), decision.ElementSlopeKPerMin, forced ? StressCause.ForcedByTrip : StressCause.Led);
        ref SignalValue contactor = ref decision.Image[SignalRole.ContactorClosed];
        Duty.Add(Value(decision, SignalRole.Power), _presentAboveKw, contactor.IsGood ? contactor.Value >= 0.5 : null);
    }

    private void FollowLegs(UnitDecision decision, long utcMs) => Legs?.Add(
        Value(decision, SignalRole.CurrentL1),
        Value(decision, SignalRole.CurrentL2),
        Value(decision, SignalRole.CurrentL3),
        Value(decision, SignalRole.Power),
        Value(decision, SignalRole.ElementTemperature),
        utcMs,
        Stress.LedCycles + Stress.ForcedCycles);

    /// <summary>Blocks of about a minute that are whole blocks of PHAS and so whole firing cycles.</summary>
    private static LegWatch? NewLegs(UnitTable table, int scanMs)
    {
        if (table.Phas is not { Alloy: { } alloy } phas || HeatingAlloys.Find(alloy) is not { } factors)
        {
            return null;
        }

        int phaseScans = Math.Max(1, (phas.BlockMs + scanMs - 1) / scanMs);
        int phaseBlocks = Math.Max(1, LegBlockMs / (phaseScans * scanMs));
        return new LegWatch(new LegTable { Connection = phas.Connection, Alloy = factors, BlockScans = phaseScans * phaseBlocks, DemandPercent = phas.DemandPercent }, table.RatedPowerKw);
    }

    private static double Value(UnitDecision decision, SignalRole role)
    {
        SignalValue value = decision.RealOf(role); // a forced value stresses no wire
        return value.IsGood ? value.Value : double.NaN;
    }
}
