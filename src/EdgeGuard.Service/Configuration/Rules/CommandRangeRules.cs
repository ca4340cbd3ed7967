using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Core.Thermal;
using EdgeGuard.Service.Configuration.Drafts;
using EdgeGuard.Service.Configuration.Maps;

namespace EdgeGuard.Service.Configuration.Rules;

// A value that a register cannot carry is refused when it is written, which would show only at the first heat-up or,
// worse, at the first trip. So every value that the settings will make the guard write is judged here.

/// <summary>Written values fit their registers.</summary>
internal static class CommandRangeRules
{
    public static void Check(SiteDraft site, FaultList faults)
    {
        foreach (UnitDraft unit in site.Units.Where(u => u.Gas != Gas.None))
        {
            foreach ((CommandRole role, BoundPoint point) in unit.BoundCommands)
            {
                CheckEnds(unit, CommandFacts.Of(role), point, faults);
            }

            // A setpoint above its alarms is told as that; whether it could be written is then no question.
            if (!(unit.SetpointC >= unit.ElemAlarmC || unit.SetpointC >= unit.OutlAlarmC))
            {
                CheckValue(unit, CommandRole.Setpoint, unit.Section, "setpointC", unit.SetpointC, faults);
            }

            CheckValue(unit, CommandRole.Setpoint, unit.Section, "tripSetpointC", unit.Section.Number("tripSetpointC"), faults);
            CheckValue(unit, CommandRole.BlowerDemand, unit.Cool, "blowerRunPercent", unit.Cool.Number("blowerRunPercent"), faults);
            CheckValue(unit, CommandRole.BlowerDemand, unit.Cool, "blowerAfterPercent", unit.BlowerAfterPercent, faults);
        }
    }

    private static void CheckEnds(UnitDraft unit, CommandFact command, BoundPoint bound, FaultList faults)
    {
        (double min, double max) = bound.CoreRange(unit.Gas);
        if (double.IsFinite(min + max) && !(Fits(unit, bound, min) && Fits(unit, bound, max)))
        {
            faults.Add(bound.Point.Place(MapColumns.Type), $"the register cannot carry the range of the command \"{command.Name}\"", $"{min} to {max} at scale {bound.Point.Scale}, offset {bound.Point.Offset}", "min and max that the type can carry", "to correct type, scale, min or max");
        }
    }

    private static void CheckValue(UnitDraft unit, CommandRole role, Section section, string key, double value, FaultList faults)
    {
        if (!unit.BoundCommands.TryGetValue(role, out BoundPoint? bound))
        {
            return;
        }

        (double min, double max) = bound.CoreRange(unit.Gas);
        if (value < min || value > max)
        {
            faults.Add(section.At(key), $"\"{key}\" cannot be written to its register", $"{value}; {bound.Description} takes {min} to {max}", "a value inside the range of the point", $"to correct \"{key}\", or min and max in the map if the device takes more");
        }
    }

    private static bool Fits(UnitDraft unit, BoundPoint bound, double value)
    {
        (double scale, double offset) = bound.CoreScale(unit.Gas);
        Span<ushort> words = stackalloc ushort[4];
        return WordEncoder.TryEncode(value, bound.Point.Type, bound.Point.Order, scale, offset, words, out _);
    }
}
