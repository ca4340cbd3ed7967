using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Core.Thermal;

namespace EdgeGuard.Service.Guarding.Watching;

/// <summary>
/// When the units on their way are hot: running ramps to their end, waiting ones one after the other in the order of their
/// start, each as soon as the shared supply has room. "At the earliest": a ramp that ends gives back all that was reserved for
/// it, and nothing freezes meanwhile. A figure for people; the core decides by itself.
/// </summary>
internal static class SupplyForecast
{
    /// <summary>Margin of a steady unit, as the core reserves it.</summary>
    private const double SteadyFactor = 1.1;

    /// <summary>Seconds until each unit is hot; NaN where it is not on its way, infinite where it would never arrive.</summary>
    public static double[] SecondsUntilHot(SiteTable site, IReadOnlyList<UnitSnapshot> units)
    {
        double[] hot = [.. units.Select((u, i) => u.State == UnitState.Heating ? Ramp(site.Units[i], u.LedSetpointC) : double.NaN)];
        double heldKw = units.Select((u, i) => Held(site.Units[i], u)).Sum();
        var running = new PriorityQueue<double, double>();
        for (int i = 0; i < units.Count; i++)
        {
            if (units[i].State == UnitState.Heating && double.IsFinite(hot[i]))
            {
                running.Enqueue(RampKw(site.Units[i]), hot[i]);
            }
        }

        double now = 0;
        foreach (int i in Enumerable.Range(0, units.Count).Where(i => units[i].State == UnitState.PreFlow).OrderBy(i => Place(units[i])))
        {
            while (heldKw + RampKw(site.Units[i]) > site.SupplyLimitKw && running.TryDequeue(out double freedKw, out double endsAt))
            {
                heldKw -= freedKw;
                now = endsAt;
            }

            bool fits = heldKw + RampKw(site.Units[i]) <= site.SupplyLimitKw;
            hot[i] = fits ? now + Ramp(site.Units[i], Outlet(units[i])) : double.PositiveInfinity;
            if (!fits)
            {
                now = double.PositiveInfinity; // Whoever waits behind it waits for it.
            }
            else if (double.IsFinite(hot[i]))
            {
                heldKw += RampKw(site.Units[i]);
                running.Enqueue(RampKw(site.Units[i]), hot[i]);
            }
        }

        return hot;
    }

    /// <summary>The last of them; null when none is on its way or one would never arrive.</summary>
    public static double? All(IReadOnlyList<double> hot)
    {
        double[] onTheWay = [.. hot.Where(static s => !double.IsNaN(s))];
        return onTheWay.Length == 0 || onTheWay.Any(double.IsInfinity) ? null : onTheWay.Max();
    }

    /// <summary>A unit that still proves its flow asks after all that wait.</summary>
    private static int Place(UnitSnapshot unit) => unit.SupplyPlace > 0 ? unit.SupplyPlace : int.MaxValue;

    private static double Ramp(UnitTable table, double fromC) =>
        TimeLeft.RampSeconds(fromC, table.SetpointC, fromC <= table.SetpointC ? table.Cool.RampUpKPerMin : table.Cool.RampDownKPerMin);

    private static double Outlet(UnitSnapshot unit) =>
        unit.Signals[(int)SignalRole.OutletTemperature] is { IsGood: true } outlet ? outlet.Value : double.NaN;

    private static double RampKw(UnitTable table) => Math.Min(table.RatedPowerKw, table.RampPowerKw);

    private static double Held(UnitTable table, UnitSnapshot unit)
    {
        double measuredKw = unit.Signals[(int)SignalRole.Power] is { IsGood: true } power ? Math.Max(0, power.Value) : table.RatedPowerKw;
        return unit.State == UnitState.Heating ? RampKw(table)
            : unit.Permit ? Math.Min(table.RatedPowerKw, measuredKw * SteadyFactor)
            : unit.PowerProvedOff ? 0
            : measuredKw;
    }
}
