using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// SENS: a power that reads nothing although the heater is heated: read in the wrong word order, from a wrong register, with a wrong
/// scale or from a meter that hangs at zero. Judged because the proof that power is off, and RESD, rest on this one reading: where
/// it reads less than their limit always, power is proved off while it flows. It needs no model and no steady state, so it tells at the
/// first ramp what BALA tells once its loss is learnt, and it tells a unit that is only observed, where a map is tried out.
/// <para>
/// Found when the output is at or above the share from which NORS expects an answer, the power reads less than the limit of RESD,
/// both for the whole delay of NORS, and something says that heat flows all the same: line currents, or an element that rises as it
/// must under power. Without either the contactor may be open, and then nothing is the right reading. Once found it stays until the
/// power reads or nothing is asked for: an element that has arrived rises no more. An alarm alone: the other functions judge as ever.
/// </para>
/// </summary>
internal sealed class UnreadPowerWatch
{
    /// <summary>
    /// Line currents count when they flowed in one scan of this many: a burst that fires a fifth of the time shows in every
    /// fifth scan on average.
    /// </summary>
    private const int CurrentInScans = 10;

    private ScanDelay _unread;
    private long _withCurrent;
    private bool _found;

    /// <summary>Scan since when the power reads nothing at this output; −1 when it does not.</summary>
    public long Since => _unread.Since;

    /// <summary>One scan; true while it is found. It looks at real values, never at forced ones.</summary>
    public bool IsUnread(UnitMemory unit)
    {
        NoResponseTable table = unit.Table.Nors;
        bool unread = unit.MayDrawPower && unit.RealOrNaN(SignalRole.Output) >= table.PowerPercent
            && unit.RealOrNaN(SignalRole.Power) < unit.ResidualKw;
        int delayScans = unit.Scans(table.DelayMs);
        bool passed = _unread.Passed(unread, unit.Scan, delayScans);
        _withCurrent = unread ? _withCurrent + (CurrentFlows(unit) ? 1 : 0) : 0;
        bool byCurrent = _withCurrent * CurrentInScans >= unit.Scan - Since + 1;
        _found = passed && (_found || byCurrent || unit.ElementSlopeKPerMin >= table.SlopeKPerMin);
        return _found;
    }

    private static bool CurrentFlows(UnitMemory unit) => unit.Table.Phas is { } phas
        && (unit.RealOrNaN(SignalRole.CurrentL1) > phas.NoiseAmpere || unit.RealOrNaN(SignalRole.CurrentL2) > phas.NoiseAmpere
            || unit.RealOrNaN(SignalRole.CurrentL3) > phas.NoiseAmpere);
}
