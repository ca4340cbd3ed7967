using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// LEAK: earth leakage and insulation where they are fitted: alarm, then a controlled shutdown, since the hardwired
/// monitor is what protects people and a removal at full heat costs the element. In force in every state. A signal that
/// is not good shuts down in a controlled way after the delay of SENS.
/// </summary>
internal sealed class LeakFunction(LeakTable? table) : ForcibleFunction<LeakFunction.LeakMemory>(FunctionId.Leak)
{
    /// <summary>A limit that was passed stands until the value is better by this part of it.</summary>
    private const double HysteresisPart = 0.1;

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
