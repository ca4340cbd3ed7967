using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// LEAK: earth leakage and insulation where they are fitted: alarm, then a controlled shutdown, since the hardwired
/// monitor is what protects people and a removal at full heat costs the element. In force in every state. A signal that
/// is not good shuts down in a controlled way after the delay of SENS.
/// </summary>
internal sealed class LeakFunction(LeakTable? table, LeakFigures keptLeakage, LeakFigures keptInsulation) : ForcibleFunction<LeakFunction.LeakMemory>(FunctionId.Leak)
{
    /// <summary>A limit that was passed stands until the value is better by this part of it.</summary>
    private const double HysteresisPart = 0.1;

    private readonly LeakTrend _leakage = new(table?.LeakageAlarmMilliampere ?? 0, keptLeakage);

    /// <summary>As conductance: like the leakage it rises as the insulation goes.</summary>
    private readonly LeakTrend _insulation = new(table is { InsulationAlarmKiloohm: > 0 } ? 1 / table.InsulationAlarmKiloohm : 0, keptInsulation);

    /// <summary>Trend of the leakage, to be kept.</summary>
    public LeakFigures Leakage => _leakage.Figures;

    /// <summary>Trend of the insulation, to be kept.</summary>
    public LeakFigures Insulation => _insulation.Figures;

    /// <summary>Real values into the trends, once a scan.</summary>
    public void Follow(UnitMemory unit)
    {
        if (table is { TrendDays: > 0 })
        {
            double kiloohm = unit.RealOrNaN(SignalRole.Insulation);
            _leakage.Add(unit.RealOrNaN(SignalRole.EarthLeakage), unit.Site.ScanMs);
            _insulation.Add(kiloohm > 0 ? 1 / kiloohm : double.NaN, unit.Site.ScanMs);
        }
    }

    protected override void Judge(UnitMemory unit, ref LeakMemory memory, ref FunctionStatus status)
    {
        bool leakage = unit.Fitted[(int)SignalRole.EarthLeakage];
        bool insulation = unit.Fitted[(int)SignalRole.Insulation];
        if (table is null || !(leakage || insulation))
        {
            status.State = FunctionState.Idle;
            return;
        }

        double milliampere = unit.ValueOrNaN(SignalRole.EarthLeakage);
        double kiloohm = unit.ValueOrNaN(SignalRole.Insulation);
        bool notGood = (leakage && double.IsNaN(milliampere)) || (insulation && double.IsNaN(kiloohm));
        memory.Over = IsOver(milliampere, table.LeakageLimitMilliampere, memory.Over) || IsUnder(kiloohm, table.InsulationLimitKiloohm, memory.Over);
        memory.Warns = memory.Over || IsOver(milliampere, table.LeakageAlarmMilliampere, memory.Warns) || IsUnder(kiloohm, table.InsulationAlarmKiloohm, memory.Warns);
        bool demands = memory.Bad.Passed(memory.Over, unit.Scan, unit.Scans(table.DelayMs));
        bool lost = memory.Unknown.Passed(notGood, unit.Scan, unit.Scans(unit.Table.SensDelayMs));
        bool byInsulation = !leakage || (insulation && IsUnder(kiloohm, table.InsulationAlarmKiloohm, true));
        status.Finding = byInsulation ? Finding.Insulation : Finding.None;
        status.Value = byInsulation ? kiloohm : milliampere;
        status.Limit = byInsulation ? Limit(memory, table.InsulationLimitKiloohm, table.InsulationAlarmKiloohm) : Limit(memory, table.LeakageLimitMilliampere, table.LeakageAlarmMilliampere);
        status.SinceScan = memory.Bad.Runs ? memory.Bad.Since : memory.Unknown.Since;
        status.State = demands || lost ? FunctionState.Demand
            : notGood ? FunctionState.NotGood
            : memory.Over ? FunctionState.Pending
            : memory.Warns ? FunctionState.Alarm
            : FunctionState.Healthy;
        if (status.State == FunctionState.Healthy && table.TrendDays > 0)
        {
            JudgeTrend(table, milliampere, kiloohm, ref status);
        }
    }

    private void JudgeTrend(LeakTable limits, double milliampere, double kiloohm, ref FunctionStatus status)
    {
        if (_leakage.DaysLeft <= limits.TrendDays)
        {
            status.State = FunctionState.Alarm;
            (status.Finding, status.Value, status.Limit) = (Finding.LeakageRises, milliampere, limits.LeakageAlarmMilliampere);
        }
        else if (_insulation.DaysLeft <= limits.TrendDays)
        {
            status.State = FunctionState.Alarm;
            (status.Finding, status.Value, status.Limit) = (Finding.InsulationFalls, kiloohm, limits.InsulationAlarmKiloohm);
        }
    }

    private static double Limit(in LeakMemory memory, double limit, double alarm) => memory.Warns && !memory.Over ? alarm : limit;

    private static bool IsOver(double value, double limit, bool before) => value >= limit * (before ? 1 - HysteresisPart : 1);

    private static bool IsUnder(double value, double limit, bool before) => value <= limit * (before ? 1 + HysteresisPart : 1) && limit > 0;

    internal struct LeakMemory
    {
        public bool Over;
        public bool Warns;
        public ScanDelay Bad;
        public ScanDelay Unknown;
    }
}
