using EdgeGuard.Core.Signals;

namespace EdgeGuard.Service.Configuration.Maps;

/// <summary>What the cells of a row must mean together: unit fits role, plausible range stated and not empty.</summary>
internal static class RowMeaning
{
    public static void Check(RegisterPoint point, FaultList faults)
    {
        if (point.Min >= point.Max)
        {
            faults.Add(point.Place(MapColumns.Min), "the plausible range is empty", $"min {point.Min}, max {point.Max}", "min below max", "to swap the two");
        }

        if (point.TextWords > 0)
        {
            CheckText(point, faults);
        }

        if (point.EveryScans > 1 && point.Setting)
        {
            faults.Add(point.Place(MapColumns.Every), "a setting is not polled", $"{point.EveryScans}", "an empty cell", "to empty the cell");
        }

        if (point.Role is { } role)
        {
            CheckRole(point, role, faults);
        }
    }

    /// <summary>A text identifies a device; it has no range, and nothing is decided from it.</summary>
    private static void CheckText(RegisterPoint point, FaultList faults)
    {
        foreach (int column in (int[])[MapColumns.Min, MapColumns.Max, MapColumns.Sentinel])
        {
            if (!point.Cells[column].IsEmpty)
            {
                faults.Add(point.Place(column), "a text has no range and no sentinel", Quoted.Of(point.Cells[column].Text), "an empty cell", "to empty the cell, or a type of numbers");
            }
        }
    }

    /// <summary>Judges a point for the role it is to play; also used for points that the site file names for a role.</summary>
    public static void CheckRole(RegisterPoint point, RoleFact role, FaultList faults)
    {
        if (point.TextWords > 0)
        {
            faults.Add(point.Place(MapColumns.Type), $"a text cannot carry the role \"{role.Name}\"", Quoted.Of(point.Cells[MapColumns.Type].Text), "a type of numbers, or the role \"record\" or \"setting\"", "\"f32\" or \"i16\", as the device has it");
            return;
        }

        CheckUnit(point, role, faults);
        if (role.Dimension is RoleDimension.Digital or RoleDimension.Count)
        {
            return;
        }

        if (point.Type == WordType.Bit)
        {
            faults.Add(point.Place(MapColumns.Type), $"one bit cannot carry the role \"{role.Name}\"", "\"bit\"", "a register type", "\"f32\" or \"i16\", as the device has it");
        }

        bool minMissing = point.Cells[MapColumns.Min].IsEmpty;
        if (minMissing || point.Cells[MapColumns.Max].IsEmpty)
        {
            faults.Add(point.Place(minMissing ? MapColumns.Min : MapColumns.Max), $"the plausible range of \"{role.Name}\" is missing", "an empty cell", "columns min and max in the unit of the point", "the range of the sensor as wired");
        }
    }

    private static void CheckUnit(RegisterPoint point, RoleFact role, FaultList faults)
    {
        string[] units = EngineeringUnits.NamesFor(role.Dimension);
        if (units.Contains(point.Unit, StringComparer.Ordinal))
        {
            return;
        }

        string found = point.Unit.Length == 0 ? "an empty cell" : Quoted.Of(point.Unit);
        string expected = units[0].Length == 0 ? "an empty cell" : "one of " + string.Join(", ", units.Select(u => $"\"{u}\""));
        // A reference state is never guessed: Nm3/h taken for Sm3/h makes a minimum flow 5 % too low.
        string advice = role.Dimension == RoleDimension.MassFlow
            ? "the unit and reference state of the meter's data sheet: \"Nm3/h\" is at 0 °C, \"Sm3/h\" at 15 °C, both at 101.325 kPa"
            : EngineeringUnits.Meant(point.Unit, units) is { } meant ? Quoted.Of(meant) : NearMiss.Advice(point.Unit, units.Where(u => u.Length > 1), expected);
        faults.Add(point.Place(MapColumns.Unit), $"the unit does not fit the role \"{role.Name}\"", found, expected, advice);
    }
}
