using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// FLOW: no power without gas. In force while power is possible or heat is stored: with a permit given or pending,
/// while power is not proved off, and while element or outlet is above the after-cooling limit or the element not good. A flow that
/// cannot be judged counts as absent. While power is possible the limit is that of <see cref="FlowLimit"/>; where only
/// heat is stored, the lower after-cooling limit holds and a blower has time to run up. A flow that was low is there
/// again only above limit and hysteresis. Where the site lets power be reduced instead, a flow too low for the power
/// alone is an alarm and lowers the output limit; if that does not help in time it trips. FLOW also gives up a pre-flow
/// that never proves.
/// </summary>
internal sealed class FlowFunction : ForcibleFunction<FlowFunction.FlowMemory>
{
    /// <summary>A pre-flow may last this multiple of its proving time, plus <see cref="GiveUpMs"/>.</summary>
    private const int GiveUpFactor = 4;

    /// <summary>Allowance for the run-up of a blower, ms.</summary>
    private const int GiveUpMs = 60_000;

    /// <summary>With power proved off, gas may be missing this long before it is a demand, ms: a blower that is called back runs up first.</summary>
    private const int StoredHeatDelayMs = 30_000;

    private readonly FlowLimit _limit;

    public FlowFunction(UnitMemory unit)
        : base(FunctionId.Flow)
    {
        bool limits = false;
        foreach (CommandTable command in unit.Commands)
        {
            limits |= command.Role == CommandRole.OutputLimit;
        }

        _limit = new FlowLimit(unit.Table, limits);
    }

    protected override void Judge(UnitMemory unit, ref FlowMemory memory, ref FunctionStatus status)
    {
        FlowTable table = unit.Table.Flow;
        ref SignalValue flow = ref unit.Image[SignalRole.GasFlow];

        // After the start of the guard everything is de-energised and the proof needs its time: no demand from that alone.
        bool proofHadTime = unit.Scan > unit.Scans((long)unit.Table.Resd.BlankingMs + unit.Table.Resd.ProofMs);
        bool powerPossible = unit.Permit || unit.PendingDurable || (!unit.PowerProvedOff && proofHadTime);
        bool inForce = powerPossible || unit.HeatStored;
        double limit = powerPossible ? _limit.TemperatureTerm(unit) : AfterCoolingLimit(table);
        double needed = powerPossible ? _limit.PowerTerm(unit) : 0;
        bool setsBack = SetBack(unit, powerPossible);
        bool condition = inForce && IsLow(ref flow, setsBack ? limit : Math.Max(limit, needed), memory.Low.Runs, table);
        bool lacksForPower = setsBack && IsLow(ref flow, needed, memory.LowForPower.Runs, table);
        int delayMs = powerPossible ? table.DelayMs : Math.Max(table.DelayMs, StoredHeatDelayMs);
        bool low = memory.Low.Passed(condition, unit.Scan, unit.Scans(delayMs)) || (condition && memory.Demands);
        bool stays = memory.LowForPower.Passed(lacksForPower, unit.Scan, unit.Scans(table.SetbackMs));
        memory.Demands = low;
        bool givesUp = memory.Unproved.Passed(
            unit.State == UnitState.PreFlow && !unit.FlowProved, unit.Scan, unit.Scans(((long)GiveUpFactor * table.PreFlowMs) + GiveUpMs));

        bool byProof = givesUp && !low && !stays;
        status.Value = unit.ValueOrNaN(SignalRole.GasFlow);
        status.Limit = byProof ? table.ProvingKgPerHour : Math.Max(limit, needed);
        status.SinceScan = byProof ? memory.Unproved.Since : stays && !low ? memory.LowForPower.Since : memory.Low.Since;
        status.Finding = flow.IsGood ? Finding.None : Finding.NotReadable;
        status.State = low || stays || givesUp ? FunctionState.Demand
            : !inForce ? FunctionState.Idle
            : !flow.IsGood ? FunctionState.NotGood
            : condition ? FunctionState.Pending
            : lacksForPower ? FunctionState.Alarm
            : FunctionState.Healthy;
    }

    /// <summary>States the output that the flow supports; true where a shortage for the power alone is answered by that.</summary>
    private bool SetBack(UnitMemory unit, bool powerPossible)
    {
        bool setsBack = _limit.SetsBack && powerPossible && unit.Permit && unit.IsGood(SignalRole.GasFlow);
        unit.SetbackPercent = setsBack ? _limit.SupportedPercent(unit) : 100;
        return setsBack;
    }

    private static bool IsLow(ref SignalValue flow, double limit, bool wasLow, FlowTable table) =>
        !(flow.IsGood && flow.Value >= limit + (wasLow ? table.HysteresisKgPerHour : 0));

    private static double AfterCoolingLimit(FlowTable table) =>
        double.IsNaN(table.AfterCoolingKgPerHour) ? table.LimitKgPerHour / 2 : table.AfterCoolingKgPerHour;

    internal struct FlowMemory
    {
        public ScanDelay Low;
        public ScanDelay LowForPower;
        public ScanDelay Unproved;
        public bool Demands;
    }
}
