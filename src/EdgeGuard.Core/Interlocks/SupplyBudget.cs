using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// DMND: shares the supply by reservation. A unit begins its ramp only when the power of its ramp fits beside what the
/// others hold: a ramping unit the power of its ramp, a steady one its measured power and a margin, any other what it
/// draws. A unit whose power is not known holds its rated power. Waiting units go in the order of their start.
/// Should the measured sum come near the limit all the same, running ramps are frozen, the newest first.
/// </summary>
internal sealed class SupplyBudget(UnitMemory[] units, SiteTable site)
{
    /// <summary>Margin of a steady unit: control swings around its mean.</summary>
    private const double SteadyFactor = 1.1;

    /// <summary>
    /// Share of the limit at which ramps are frozen. A controller lets its output fall only some seconds after its
    /// setpoint stands still, so freezing at the limit itself would be too late.
    /// </summary>
    private const double FreezeFactor = 0.97;

    /// <summary>Frozen ramps go on when the sum is down to this share of the limit.</summary>
    private const double ReleaseFactor = 0.95;

    /// <summary>A further ramp is frozen when the sum is still too high after this time, ms.</summary>
    private const int FreezeStepMs = 10_000;

    private ScanDelay _over;

    /// <summary>Sum of measured power, kW; a unit without a good signal counts with its rated power.</summary>
    public double SitePowerKw { get; private set; }

    /// <summary>Adds up and decides which running ramps are frozen in this scan.</summary>
    public void BeginScan(long scan)
    {
        SitePowerKw = 0;
        foreach (UnitMemory unit in units)
        {
            SitePowerKw += MeasuredKw(unit);
        }

        double limit = site.SupplyLimitKw * (_over.Runs ? ReleaseFactor : FreezeFactor);
        _over.Passed(SitePowerKw > limit, scan, 0);
        long frozen = _over.Runs ? 1 + ((scan - _over.Since) * site.ScanMs / FreezeStepMs) : 0;
        foreach (UnitMemory unit in units)
        {
            unit.SitePowerKw = SitePowerKw;
            unit.SupplyFrozen = unit.State == UnitState.Heating && NewerRamps(unit) < frozen;
        }
    }

    /// <summary>True when the unit may begin its ramp now.</summary>
    /// <param name="unit">The unit that asks; ready in everything else.</param>
    /// <param name="sumKw">What would be held, the unit's ramp included.</param>
    public bool Fits(UnitMemory unit, out double sumKw)
    {
        sumKw = RampKw(unit.Table);
        bool first = true;
        foreach (UnitMemory other in units)
        {
            if (other != unit)
            {
                sumKw += HeldKw(other);
                first &= !(other.WaitsForSupply && other.StartOrder < unit.StartOrder);
            }
        }

        return first && sumKw <= site.SupplyLimitKw;
    }

    /// <summary>Place of a waiting unit in the order of start, from 1; 0 for a unit that does not wait.</summary>
    public int PlaceOf(UnitMemory unit)
    {
        if (!unit.WaitsForSupply)
        {
            return 0;
        }

        int place = 1;
        foreach (UnitMemory other in units)
        {
            place += other.WaitsForSupply && other.StartOrder < unit.StartOrder ? 1 : 0;
        }

        return place;
    }

    private static double MeasuredKw(UnitMemory unit)
    {
        double power = unit.ValueOrNaN(SignalRole.Power);
        return double.IsNaN(power) ? unit.Table.RatedPowerKw : Math.Max(0, power);
    }

    /// <summary>Power of a ramp, kW; a controller with a commanded output limit can draw no more.</summary>
    public static double RampKw(UnitTable table) => Math.Min(table.RatedPowerKw, table.RampPowerKw);

    private static double HeldKw(UnitMemory unit)
    {
        if (unit.PendingDurable || unit.State == UnitState.Heating)
        {
            return RampKw(unit.Table);
        }

        if (unit.Permit)
        {
            return Math.Min(unit.Table.RatedPowerKw, MeasuredKw(unit) * SteadyFactor);
        }

        return unit.PowerProvedOff ? 0 : MeasuredKw(unit);
    }

    private long NewerRamps(UnitMemory unit)
    {
        long newer = 0;
        foreach (UnitMemory other in units)
        {
            newer += other.State == UnitState.Heating && other.PermitEvent > unit.PermitEvent ? 1 : 0;
        }

        return newer;
    }
}
