using EdgeGuard.Core.Electrical;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// PHAS: the three line currents under a permit (or while only observing), as root mean squares over blocks of whole firing cycles and only at
/// an output that lets them be told apart. A dead line, an open leg or a great unbalance removes power; a small
/// unbalance is a leg that ages: controlled. No current at all is no unbalance (the contactor is open). Currents that
/// are not good cannot be judged and shut down in a controlled way after the delay of SENS.
/// </summary>
internal sealed class PhaseFunction(PhaseTable? table, int scanMs) : ProtectiveFunction(FunctionId.Phas)
{
    private readonly int _blockScans = table is null ? 1 : Math.Max(1, ScanDelay.Scans(table.BlockMs, scanMs));
    private int _count;
    private double _first;
    private double _second;
    private double _third;
    private double _demand;
    private double _unbalance;
    private bool _open;
    private bool _judged;
    private ScanDelay _hard;
    private ScanDelay _mild;
    private ScanDelay _unknown;

    public override void Evaluate(UnitMemory unit, ref FunctionStatus status)
    {
        if (table is null)
        {
            status.State = FunctionState.Idle;
            return;
        }

        bool good = unit.IsGood(SignalRole.CurrentL1) && unit.IsGood(SignalRole.CurrentL2) && unit.IsGood(SignalRole.CurrentL3);
        Gather(unit, good);
        bool hard = _judged && (_open || _unbalance >= table.HardPercent);
        bool mild = _judged && _unbalance >= table.MildPercent;
        bool hardDemand = _hard.Passed(hard, unit.Scan, unit.Scans(table.HardDelayMs));
        bool mildDemand = _mild.Passed(mild, unit.Scan, unit.Scans(table.MildDelayMs));
        bool lost = _unknown.Passed(unit.MayDrawPower && !good, unit.Scan, unit.Scans(unit.Table.SensDelayMs));
        Figures(ref status, hard, good || hardDemand);
        status.State = hardDemand || mildDemand || lost ? FunctionState.Demand
            : !good ? FunctionState.NotGood
            : hard ? FunctionState.Pending
            : mild ? FunctionState.Alarm
            : _judged ? FunctionState.Healthy
            : FunctionState.Idle;
        status.Reaction = hardDemand || (hard && !mildDemand && !lost) ? Reaction.Removal : Reaction.Controlled;
    }

    private void Figures(ref FunctionStatus status, bool hard, bool known)
    {
        status.Value = known ? _unbalance : double.NaN;
        status.Limit = hard ? table!.HardPercent : table!.MildPercent;
        status.Finding = hard && _open ? Finding.OpenLeg : Finding.None;
        status.SinceScan = hard ? _hard.Since : _mild.Runs ? _mild.Since : _unknown.Since;
    }

    /// <summary>One scan into the block; without a permit or without currents the block begins anew and nothing stands.</summary>
    private void Gather(UnitMemory unit, bool good)
    {
        if (!unit.MayDrawPower || !good || unit.Raw.SkippedScans > 0)
        {
            _count = 0;
            _judged &= unit.MayDrawPower; // a gap calms nothing that was found under this permit
            return;
        }

        bool begins = _count == 0;
        _first = (begins ? 0 : _first) + Square(unit.Image[SignalRole.CurrentL1].Value);
        _second = (begins ? 0 : _second) + Square(unit.Image[SignalRole.CurrentL2].Value);
        _third = (begins ? 0 : _third) + Square(unit.Image[SignalRole.CurrentL3].Value);
        _demand = (begins ? 0 : _demand) + DemandPercent(unit);
        _count++;
        if (_count == _blockScans)
        {
            Judge();
        }
    }

    private void Judge()
    {
        double first = Math.Sqrt(_first / _count);
        double second = Math.Sqrt(_second / _count);
        double third = Math.Sqrt(_third / _count);
        CurrentPattern pattern = CurrentPatterns.Recognise(table!.Connection, first, second, third, table.NoiseAmpere);
        _judged = _demand / _count >= table.DemandPercent && pattern != CurrentPattern.NoCurrent;
        _open = pattern is not (CurrentPattern.Even or CurrentPattern.Unclear or CurrentPattern.NoCurrent);
        _unbalance = Math.Max(Unbalance.MaxDeviationPercent(first, second, third), Unbalance.NegativeSequencePercent(first, second, third));
        _count = 0;
    }

    /// <summary>The output of the controller; where it is not fitted or not good, the measured power.</summary>
    private static double DemandPercent(UnitMemory unit)
    {
        double output = unit.ValueOrNaN(SignalRole.Output);
        return double.IsNaN(output) ? unit.ValueOrNaN(SignalRole.Power) / unit.Table.RatedPowerKw * 100 : output;
    }

    private static double Square(double x) => x * x;
}
