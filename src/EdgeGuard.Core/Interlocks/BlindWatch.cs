namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// Watches the promise behind "not good votes to trip": beside a permit no removing function may be unable to judge for
/// longer than the delay after which that trips, its own for FLOW, that of SENS for all others. The functions see to
/// it each for itself; this counts it once more without asking them, so that a fault in one shows as one.
/// </summary>
internal sealed class BlindWatch
{
    private readonly ScanDelay[] _blind = new ScanDelay[FunctionIds.Count];

    /// <summary>Takes the verdicts of this scan; false when the promise is broken.</summary>
    public bool Holds(UnitMemory unit, FunctionStatus[] verdicts)
    {
        bool holds = true;
        for (int i = 1; i < FunctionIds.Count; i++)
        {
            var id = (FunctionId)i;
            bool blind = unit.Permit && verdicts[i].State == FunctionState.NotGood && FunctionIds.ReactionOf(id) == Reaction.Removal;
            int delayMs = id == FunctionId.Flow ? unit.Table.Flow.DelayMs : unit.Table.SensDelayMs;
            holds &= !_blind[i].Passed(blind, unit.Scan, unit.Scans(delayMs) + 1);
        }

        return holds;
    }
}
