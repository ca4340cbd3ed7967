using System.Globalization;
using EdgeGuard.Service.Configuration.Drafts;
using EdgeGuard.Service.Configuration.Maps;
using EdgeGuard.Service.Configuration.Schema;

namespace EdgeGuard.Service.Configuration.Rules;

// What may be forced stands in the key table: only what a sensor measures. Here: the signal is there at all, its range is
// one, and a value that the sensor itself could not give cannot be forced either, or a force would say more than the plant.

/// <summary>Forcible signals and their ranges.</summary>
internal static class ForceRules
{
    public static void Check(SiteDraft site, FaultList faults)
    {
        foreach (UnitDraft unit in site.Units)
        {
            foreach ((RoleFact role, Section range) in unit.Forcible)
            {
                CheckRange(unit, role, range, faults);
            }

            if (unit.Force.Flag("startWhileForced") && unit.Force.Stated && unit.Forcible.Count == 0)
            {
                faults.Add(unit.Force.At("startWhileForced"), "\"startWhileForced\" without a forcible signal", "no signal under \"force\"", "one of " + string.Join(", ", ForcibleRoles.All.Select(r => r.Name)), "to leave \"startWhileForced\" out");
            }
        }
    }

    private static void CheckRange(UnitDraft unit, RoleFact role, Section range, FaultList faults)
    {
        double min = range.Number("min");
        double max = range.Number("max");
        if (min >= max)
        {
            faults.Add(range.At("min"), $"the range of the forced \"{role.Name}\" is none", string.Create(CultureInfo.InvariantCulture, $"{min} to {max}"), "\"min\" below \"max\"", "to exchange the two");
            return;
        }

        if (!unit.BoundSignals.TryGetValue(role.Role, out BoundPoint? bound))
        {
            if (unit.BindingComplete)
            {
                faults.Add(unit.Force.At(role.Name), "a signal that is not there is forcible", $"no point with role \"{role.Name}\"", "a signal the unit reads", "to remove the key, or to bind the signal");
            }

            return;
        }

        (double lowest, double highest) = bound.CoreRange(unit.Gas);
        if (min < lowest || max > highest)
        {
            faults.Add(range.At(min < lowest ? "min" : "max"), $"the range of the forced \"{role.Name}\" is wider than that of its sensor", string.Create(CultureInfo.InvariantCulture, $"{min} to {max}"), string.Create(CultureInfo.InvariantCulture, $"within {lowest} to {highest} ({bound.Description})"), "a range in which the unit may be run with a simulated value");
        }
    }
}
