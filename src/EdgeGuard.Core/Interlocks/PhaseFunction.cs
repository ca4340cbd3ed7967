using EdgeGuard.Core.Electrical;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// PHAS: the three line currents under a permit (or while only observing), as root mean squares over blocks of whole firing cycles and only at
/// an output that lets them be told apart. A dead line, an open leg or a great unbalance removes power; a small
/// unbalance is a leg that ages: controlled. No current at all is no unbalance (the contactor is open). Currents that
/// are not good cannot be judged and shut down in a controlled way after the delay of SENS.
/// </summary>
internal sealed class PhaseFunction(PhaseTable? table, int scanMs) 
    : ForcibleFunction<PhaseFunction.PhaseMemory>(FunctionId.Phas)
{
    private readonly int _blockScans = table is null ? 1 : Math.Max(1, ScanDelay.Scans(table.BlockMs, scanMs));

    protected override void Judge(UnitMemory unit, ref PhaseMemory memory, ref FunctionStatus status)
    {
        if (table is null)
        {
            status.State = FunctionState.Idle;
            return;
        }

        bool good = unit.IsGood(SignalRole.CurrentL1) && unit.IsGood(SignalRole.CurrentL2) && unit.IsGood(SignalRole.CurrentL3);
        Gather(unit, ref memory, good);
        bool hard = memory.Judged && (memory.Open || memory.Unbalance >= table.HardPercent);
        bool mild = memory.Judged && memory.Unbalance >= table.MildPercent;
        bool hardDemand = memory.Hard.Passed(hard, unit.Scan, unit.Scans(table.HardDelayMs));
        bool mildDemand = memory.Mild.Passed(mild, unit.Scan, unit.Scans(table.MildDelayMs));
        bool lost = memory.Unknown.Passed(unit.MayDrawPower && !good, unit.Scan, unit.Scans(unit.Table.SensDelayMs));
        Figures(ref status, in memory, hard, good || hardDemand);
        status.State = hardDemand || mildDemand || lost ? FunctionState.Demand
            : !good ? FunctionState.NotGood
            : hard ? FunctionState.Pending
            : mild ? FunctionState.Alarm
            : memory.Judged ? FunctionState.Healthy
            : FunctionState.Idle;
        status.Reaction = hardDemand || (hard && !mildDemand && !lost) ? Reaction.Removal : Reaction.Controlled;
    }

    private void Figures(ref FunctionStatus status, in PhaseMemory memory, bool hard, bool known)
    {
        status.Value = known ? memory.Unbalance : double.NaN;
        status.Limit = hard ? table!.HardPercent : table!.MildPercent;
        status.Finding = hard && memory.Open ? Finding.OpenLeg : Finding.None;
        status.SinceScan = hard ? memory.Hard.Since : memory.Mild.Runs ? memory.Mild.Since : memory.Unknown.Since;
    }

    /// <summary>One scan into the block; without a permit or without currents the block begins anew and nothing stands.</summary>
    private void Gather(UnitMemory unit, ref PhaseMemory memory, bool good)
    {
        if (!unit.MayDrawPower || !good || unit.Raw.SkippedScans > 0)
        {
            memory.Count = 0;
            memory.Judged &= unit.MayDrawPower; // a gap calms nothing that was found under this permit
            return;
        }

        bool begins = memory.Count == 0;
        memory.First = (begins ? 0 : memory.First) + Square(unit.Image[SignalRole.CurrentL1].Value);
        memory.Second = (begins ? 0 : memory.Second) + Square(unit.Image[SignalRole.CurrentL2].Value);
        memory.Third = (begins ? 0 : memory.Third) + Square(unit.Image[SignalRole.CurrentL3].Value);
        memory.Demand = (begins ? 0 : memory.Demand) + DemandPercent(unit);
        memory.Count++;
        if (memory.Count == _blockScans)
        {
            JudgeBlock(ref memory);
        }
    }

    private void JudgeBlock(ref PhaseMemory memory)
    {
        double first = Math.Sqrt(memory.First / memory.Count);
        double second = Math.Sqrt(memory.Second / memory.Count);
        double third = Math.Sqrt(memory.Third / memory.Count);
        CurrentPattern pattern = CurrentPatterns.Recognise(table!.Connection, first, second, third, table.NoiseAmpere);
        memory.Judged = memory.Demand / memory.Count >= table.DemandPercent && pattern != CurrentPattern.NoCurrent;
        memory.Open = pattern is not (CurrentPattern.Even or CurrentPattern.Unclear or CurrentPattern.NoCurrent);
        memory.Unbalance = Math.Max(Unbalance.MaxDeviationPercent(first, second, third), Unbalance.NegativeSequencePercent(first, second, third));
        memory.Count = 0;
    }

    /// <summary>The output of the controller; where it is not fitted or not good, the measured power.</summary>
    private static double DemandPercent(UnitMemory unit)
    {
        double output = unit.ValueOrNaN(SignalRole.Output);
        return double.IsNaN(output) ? unit.ValueOrNaN(SignalRole.Power) / unit.Table.RatedPowerKw * 100 : output;
    }

    private static double Square(double x) => x * x;

    internal struct PhaseMemory
    {
        public int Count;
        public double First;
        public double Second;
        public double Third;
        public double Demand;
        public double Unbalance;
        public bool Open;
        public bool Judged;
        public ScanDelay Hard;
        public ScanDelay Mild;
        public ScanDelay Unknown;
    }
}
