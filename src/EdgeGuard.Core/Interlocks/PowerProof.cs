using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// Proof that power is off, and its opposite. Both need a good power signal for the proof time after the blanking
/// time that follows a removal; an unknown power is neither, so nothing that waits for the proof goes on.
/// Where the guard removes nothing (observing, key on local) the measured power alone counts.
/// </summary>
internal sealed class PowerProof
{
    private ScanDelay _below;
    private ScanDelay _above;

    public void Update(UnitMemory unit)
    {
        ref SignalValue power = ref unit.Real[SignalRole.Power];
        ResidualTable table = unit.Table.Resd;
        bool removes = unit.Enforces && !unit.KeyLocal;
        bool judged = !unit.Permit && (!removes || unit.Scan - unit.RemovalScan >= unit.Scans(table.BlankingMs));
        int proofScans = unit.Scans(table.ProofMs);
        bool below = judged && power.IsGood && power.Value < unit.ResidualKw;
        bool above = judged && power.IsGood && power.Value >= unit.ResidualKw;
        unit.PowerProvedOff = _below.Passed(below, unit.SeenScan, proofScans);
        unit.PowerResidual = _above.Passed(above, unit.Scan, proofScans) && removes;
        unit.PowerSinceScan = _above.Since;
    }
}
