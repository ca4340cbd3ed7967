using EdgeGuard.Core.Signals;
using EdgeGuard.Modbus;
using EdgeGuard.Service.Configuration.Drafts;
using EdgeGuard.Service.Configuration.Maps;

namespace EdgeGuard.Service.Configuration.Rules;

/// <summary>One register, one meaning: points of a map may share a word only as different bits of a status word.</summary>
internal static class OverlapRules
{
    public static void Check(SiteDraft site, FaultList faults)
    {
        foreach (RegisterMap map in site.Devices.Select(d => d.Map).OfType<RegisterMap>().Distinct())
        {
            var owners = new Dictionary<(ModbusTable Table, int Address), List<RegisterPoint>>();
            foreach (RegisterPoint point in map.Points)
            {
                for (int word = 0; word < point.WordCount; word++)
                {
                    Claim(owners, point, point.Address + word, faults);
                }
            }
        }
    }

    private static void Claim(Dictionary<(ModbusTable Table, int Address), List<RegisterPoint>> owners, RegisterPoint point, int address, FaultList faults)
    {
        if (!owners.TryGetValue((point.Table, address), out List<RegisterPoint>? there))
        {
            owners.Add((point.Table, address), [point]);
            return;
        }

        foreach (RegisterPoint other in there)
        {
            if (Collide(point, other))
            {
                faults.Add(point.Place(MapColumns.Address), "two points use the same register", $"{AddressNotation.Of(point.Table, address)} for {Quoted.Of(point.Name)} and {Quoted.Of(other.Name)}", "each register once; a 32-bit value takes two", "to compare both with the device's register list");
                break;
            }
        }

        there.Add(point);
    }

    /// <summary>Bits of a word may stand beside each other and beside the whole status word.</summary>
    private static bool Collide(RegisterPoint a, RegisterPoint b)
    {
        if (a.IsBitTable)
        {
            return true;
        }

        bool aBits = a.Type is WordType.Bit or WordType.BitField;
        bool bBits = b.Type is WordType.Bit or WordType.BitField;
        return aBits && bBits
            ? a.Bit < b.Bit + b.BitCount && b.Bit < a.Bit + a.BitCount
            : !(aBits || bBits) || a.WordCount + b.WordCount > 2;
    }
}
