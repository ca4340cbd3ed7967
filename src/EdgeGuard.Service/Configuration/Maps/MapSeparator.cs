using System.Text;

namespace EdgeGuard.Service.Configuration.Maps;

// A spreadsheet of a country with a decimal comma saves "CSV" with semicolons, and then mostly with decimal commas too.
// Such a file is not guessed at: "1,500" would be read as one and a half by one person and as fifteen hundred by another.

/// <summary>Finds a register map whose columns are not separated by commas, and says so.</summary>
internal static class MapSeparator
{
    private static readonly (char Sign, string Name)[] Others = [(';', "semicolons"), ('\t', "tabs"), ('|', "vertical bars")];

    /// <summary>True when the header is whole but for its separator; then that one fault is told and no other.</summary>
    /// <param name="header">The header line.</param>
    /// <param name="at">Its place.</param>
    /// <param name="map">The whole file.</param>
    /// <param name="faults">Where to tell it.</param>
    public static bool ReportOther(string header, TextPosition at, byte[] map, FaultList faults)
    {
        foreach ((char sign, string name) in Others)
        {
            string[] names = [.. header.Split(sign, StringSplitOptions.TrimEntries).Take(MapColumns.Names.Count)];
            if (names.SequenceEqual(MapColumns.Names, StringComparer.Ordinal))
            {
                string numbers = HoldsDecimalComma(map, sign) ? "and the decimal point in numbers (0.1 for 0,1)" : "and the decimal point in numbers";
                faults.Add(at, $"the columns of the register map are separated by {name}", $"{name} in the header", "commas as separator, a point as decimal sign", $"to save the table with the comma as separator {numbers}");
                return true;
            }
        }

        return false;
    }

    private static bool HoldsDecimalComma(byte[] map, char sign) => Encoding.UTF8.GetString(map)
        .Split('\n')
        .Select(static line => line.Split('#')[0])
        .SelectMany(line => line.Split(sign))
        .Any(static cell => DecimalComma.IsOne(cell.Trim()));
}
