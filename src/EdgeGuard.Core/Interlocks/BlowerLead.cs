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

    /// <summary>The demand of this scan; NaN when nothing is to be written.</summary>
    public double Next(UnitMemory unit, FunctionState resd)
    {
        if (!unit.Enforces || unit.KeyLocal)
        {
            _percent = double.NaN;
            return double.NaN;
        }

        _percent = Decide(unit, resd, Adopted(unit));
        return _percent;
    }

    /// <summary>The demand of the scan before, or the one found at the cabinet; NaN while nothing was read.</summary>
    private double Adopted(UnitMemory unit)
    {
        if (!double.IsNaN(_percent))
        {
            return _percent;
        }

        bool readable = unit.Fitted[(int)SignalRole.BlowerDemand];
        return readable ? unit.ValueOrNaN(SignalRole.BlowerDemand) : unit.Table.Cool.BlowerRunPercent;
    }

    private static double Decide(UnitMemory unit, FunctionState resd, double now)
    {
        CoolTable table = unit.Table.Cool;
        if (unit.State is UnitState.PreFlow or UnitState.Heating or UnitState.Holding or UnitState.LedCooldown)
        {
            return table.BlowerRunPercent;
        }

        if (resd == FunctionState.Demand)
        {
            return double.IsNaN(now) ? table.BlowerRunPercent : Math.Max(now, table.BlowerRunPercent);
        }

        if (double.IsNaN(now))
        {
            // Not read yet: nothing to hold. Once the link has had its time the unknown blower is asked to run.
            bool patient = unit.Scan * unit.Site.ScanMs <= unit.Table.CommLimitMs;
            return patient ? double.NaN : table.BlowerRunPercent;
        }

        if (!unit.HeatStored)
        {
            return unit.PowerProvedOff ? 0 : now;
        }

        double eased = now - (table.BlowerEasePercentPerSecond * unit.Site.ScanMs / 1_000);
        return Math.Max(unit.PowerProvedOff ? eased : now, table.BlowerAfterPercent);
    }
}
