using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// LEAK: earth leakage and insulation where they are fitted: alarm, then a controlled shutdown, since the hardwired
/// monitor is what protects people and a removal at full heat costs the element. In force in every state. A signal that
/// is not good shuts down in a controlled way after the delay of SENS.
/// </summary>
internal sealed class LeakFunction(LeakTable? table) : ProtectiveFunction(FunctionId.Leak)
{
    /// <summary>A limit that was passed stands until the value is better by this part of it.</summary>
    private const double HysteresisPart = 0.1;

    private bool _over;
    private bool _warns;
    private ScanDelay _bad;
    private ScanDelay _unknown;

    public override void Evaluate(UnitMemory unit, ref FunctionStatus status)
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
        _over = IsOver(milliampere, table.LeakageLimitMilliampere, _over) || IsUnder(kiloohm, table.InsulationLimitKiloohm, _over);
        _warns = _over || IsOver(milliampere, table.LeakageAlarmMilliampere, _warns) || IsUnder(kiloohm, table.InsulationAlarmKiloohm, _warns);
        bool demands = _bad.Passed(_over, unit.Scan, unit.Scans(table.DelayMs));
        bool lost = _unknown.Passed(notGood, unit.Scan, unit.Scans(unit.Table.SensDelayMs));
        bool byInsulation = !leakage || (insulation && IsUnder(kiloohm, table.InsulationAlarmKiloohm, true));
        status.Finding = byInsulation ? Finding.Insulation : Finding.None;
        status.Value = byInsulation ? kiloohm : milliampere;
        status.Limit = byInsulation ? Limit(table.InsulationLimitKiloohm, table.InsulationAlarmKiloohm) : Limit(table.LeakageLimitMilliampere, table.LeakageAlarmMilliampere);
        status.SinceScan = _bad.Runs ? _bad.Since : _unknown.Since;
        status.State = demands || lost ? FunctionState.Demand
            : notGood ? FunctionState.NotGood
            : _over ? FunctionState.Pending
            : _warns ? FunctionState.Alarm
            : FunctionState.Healthy;
    }

    private double Limit(double limit, double alarm) => _warns && !_over ? alarm : limit;

    private static bool IsOver(double value, double limit, bool before) => value >= limit * (before ? 1 - HysteresisPart : 1);

    private static bool IsUnder(double value, double limit, bool before) => value <= limit * (before ? 1 + HysteresisPart : 1) && limit > 0;
}
