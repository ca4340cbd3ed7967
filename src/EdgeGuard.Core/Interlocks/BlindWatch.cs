namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// Watches the promise behind "not good votes to trip": beside a permit no removing function may be unable to judge for
/// longer than the delay after which that trips, its own for FLOW, that of SENS for all others. The functions see to
/// it each for itself; this counts it once more without asking them, so that a fault in one shows as one.
/// </summary>
internal sealed class BlindWatch
{
    private readonly ScanDelay[] _blind = new ScanDelay[FunctionIds.Count];
    private ScanDelay _elementUnjudged;
    private ScanDelay _outletUnjudged;

    /// <summary>
    /// ELEM and OUTL leave a sensor that is not good to SENS. With SENS bypassed nobody would trip, so beside a permit
    /// they demand themselves, unless bypassed as well: who wants to heat without a sensor says so for its limit too.
    /// </summary>
    public void DemandForBypassedSens(UnitMemory unit, FunctionStatus[] verdicts)
    {
        bool sensBypassed = verdicts[(int)FunctionId.Sens].Bypassed;
        Demand(unit, ref verdicts[(int)FunctionId.Elem], ref _elementUnjudged, sensBypassed);
        Demand(unit, ref verdicts[(int)FunctionId.Outl], ref _outletUnjudged, sensBypassed);
    }

    /// <summary>Takes the verdicts of this scan; false when the promise is broken.</summary>
    public bool Holds(UnitMemory unit, FunctionStatus[] verdicts)
    {
        bool holds = true;
        for (int i = 1; i < FunctionIds.Count; i++)
        {
            var id = (FunctionId)i;
            bool blind = unit.Permit && verdicts[i].State == FunctionState.NotGood && !verdicts[i].Bypassed && verdicts[i].Reaction == Reaction.Removal;
            int delayMs = id == FunctionId.Flow ? unit.Table.Flow.DelayMs : unit.Table.SensDelayMs;
            holds &= !_blind[i].Passed(blind, unit.Scan, unit.Scans(delayMs) + 1);
        }

        return holds;
    }

    private static void Demand(UnitMemory unit, ref FunctionStatus verdict, ref ScanDelay unjudged, bool sensBypassed)
    {
        bool blind = verdict.State == FunctionState.NotGood && (unit.Permit || unit.PendingDurable);
        if (unjudged.Passed(blind, unit.Scan, unit.Scans(unit.Table.SensDelayMs)) && sensBypassed)
        {
            verdict.State = FunctionState.Demand;
            verdict.SinceScan = unjudged.Since;
        }
    }
}
