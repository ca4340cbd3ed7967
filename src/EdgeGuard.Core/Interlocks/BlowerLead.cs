using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// Decides the blower demand. With gas needed for power it is the run demand. After a removal it stays as it is until
/// power is proved off: a shorted leg with less gas is hotter than with more. Then it is eased to the after-cooling
/// demand, and stopped only when the element is known to be cold and the outlet gas is not warm. Residual power brings it back to the run demand.
/// </summary>
internal sealed class BlowerLead
{
    private double _percent = double.NaN;
    private ScanDelay _unread;

    /// <summary>The demand of this scan; NaN when nothing is to be written.</summary>
    public double Next(UnitMemory unit, FunctionState resd)
    {
        bool readable = unit.Fitted[(int)SignalRole.BlowerDemand];
        double found = readable ? unit.ValueOrNaN(SignalRole.BlowerDemand) : unit.Table.Cool.BlowerRunPercent;
        bool patienceOver = _unread.Passed(double.IsNaN(found), unit.Scan, unit.Scans(unit.Table.CommLimitMs));
        if (!unit.Enforces || unit.KeyLocal)
        {
            _percent = double.NaN;
            return double.NaN;
        }

        if (NeedsGas(unit))
        {
            _percent = unit.Table.Cool.BlowerRunPercent;
            return _percent;
        }

        if (double.IsNaN(found))
        {
            // Not readable: what was written last may never have arrived, so nothing is lowered and the cabinet's own
            // demand is taken over when it can be read again. After a while the unknown blower is asked to run.
            _percent = double.NaN;
            return patienceOver ? unit.Table.Cool.BlowerRunPercent : double.NaN;
        }

        _percent = Decide(unit, resd, Held(unit, found));
        return _percent;
    }

    private static bool NeedsGas(UnitMemory unit) =>
        unit.State is UnitState.PreFlow or UnitState.Heating or UnitState.Holding or UnitState.LedCooldown;

    /// <summary>The demand of the scan before; until power is proved off never less than the cabinet has.</summary>
    private double Held(UnitMemory unit, double found)
    {
        if (double.IsNaN(_percent))
        {
            return found;
        }

        return unit.PowerProvedOff ? _percent : Math.Max(_percent, found);
    }

    private static double Decide(UnitMemory unit, FunctionState resd, double now)
    {
        CoolTable table = unit.Table.Cool;
        if (resd == FunctionState.Demand)
        {
            return Math.Max(now, table.BlowerRunPercent);
        }

        if (!unit.HeatStored)
        {
            return unit.PowerProvedOff ? 0 : now;
        }

        double eased = now - (table.BlowerEasePercentPerSecond * unit.Site.ScanMs / 1_000);
        return Math.Max(unit.PowerProvedOff ? eased : now, table.BlowerAfterPercent);
    }
}
