using EdgeGuard.Core.Electrical;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Core.Thermal;
using EdgeGuard.Records.Kept;

namespace EdgeGuard.Service.Guarding.Watching;

/// <summary>
/// What people are told about the use of one unit beyond the decision itself: thermal stress, energy and contactor. Runs
/// after the effects of a scan, decides nothing, allocates nothing.
/// </summary>
internal sealed class UnitWatch
{
    /// <summary>Lower edges of the temperature bands whose hours are counted, °C.</summary>
    public static readonly IReadOnlyList<double> BandsC = [.. KeptRecord.BandsC.Select(static c => (double)c)];

    private const int LegBlockMs = 60_000;

    private readonly UnitTable _table;
    private readonly double _presentAboveKw;
    private bool _leftHot = true;

    public UnitWatch(UnitTable table, int scanMs)
    {
        _table = table;
        _presentAboveKw = table.RatedPowerKw * table.Resd.LimitPercent / 100;
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

    /// <summary>Takes one scan.</summary>
    public void Step(long utcMs, UnitDecision decision)
    {
        CountUse(decision);
        FollowLegs(decision, utcMs);
    }

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
