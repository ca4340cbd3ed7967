using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// FLOW: no power without gas. In force while power is possible or heat is stored: with a permit given or pending,
/// while power is not proved off, and while element or outlet is above the after-cooling limit or the element not good. A flow that
/// cannot be judged counts as absent. Where only heat is stored, the lower after-cooling limit holds and a blower has
/// time to run up. It also gives up a pre-flow that never proves.
/// </summary>
internal sealed class FlowFunction() : ProtectiveFunction(FunctionId.Flow)
{
    /// <summary>A pre-flow may last this multiple of its proving time, plus <see cref="GiveUpMs"/>.</summary>
    private const int GiveUpFactor = 4;

    /// <summary>Allowance for the run-up of a blower, ms.</summary>
    private const int GiveUpMs = 60_000;

    /// <summary>With power proved off, gas may be missing this long before it is a demand, ms: a blower that is called back runs up first.</summary>
    private const int StoredHeatDelayMs = 30_000;

    private bool _demands;
    private ScanDelay _low;
    private ScanDelay _unproved;

    public override void Evaluate(UnitMemory unit, ref FunctionStatus status)
    {
        FlowTable table = unit.Table.Flow;
        ref SignalValue flow = ref unit.Image[SignalRole.GasFlow];

        // After the start of the guard everything is de-energised and the proof needs its time: no demand from that alone.
        bool proofHadTime = unit.Scan > unit.Scans((long)unit.Table.Resd.BlankingMs + unit.Table.Resd.ProofMs);
        bool powerPossible = unit.Permit || unit.PendingDurable || (!unit.PowerProvedOff && proofHadTime);
        bool inForce = powerPossible || unit.HeatStored;
        double limit = powerPossible ? table.LimitKgPerHour : AfterCoolingLimit(table);
        bool condition = inForce && !(flow.IsGood && flow.Value >= limit);
        int delayMs = powerPossible ? table.DelayMs : Math.Max(table.DelayMs, StoredHeatDelayMs);
        bool low = _low.Passed(condition, unit.Scan, unit.Scans(delayMs)) || (condition && _demands);
        _demands = low;
        bool givesUp = _unproved.Passed(
            unit.State == UnitState.PreFlow && !unit.FlowProved, unit.Scan, unit.Scans(((long)GiveUpFactor * table.PreFlowMs) + GiveUpMs));

        status.Value = unit.ValueOrNaN(SignalRole.GasFlow);
        status.Limit = givesUp && !low ? table.ProvingKgPerHour : limit;
        status.SinceScan = givesUp && !low ? _unproved.Since : _low.Since;
        status.State = low || givesUp ? FunctionState.Demand
            : !inForce ? FunctionState.Idle
            : !flow.IsGood ? FunctionState.NotGood
            : condition ? FunctionState.Pending
            : FunctionState.Healthy;
    }

    private static double AfterCoolingLimit(FlowTable table) =>
        double.IsNaN(table.AfterCoolingKgPerHour) ? table.LimitKgPerHour / 2 : table.AfterCoolingKgPerHour;
}
