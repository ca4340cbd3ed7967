using System.Globalization;
using EdgeGuard.Core.Signals;
using EdgeGuard.Service.Configuration.Maps;

namespace EdgeGuard.Service.Probing;

/// <summary>
/// A starting register map of a probed range: every register that was read stands in it once, as `record`, with its
/// reading as comment. What fits the expected value comes first, if it does so in the usual way; then pairs that are a plausible number in the one
/// order that the expected value, or else most pairs of the range, speak for; the rest is u16. Names, roles, units and ranges are for a person to fill in.
/// </summary>
public static class MapDraft
{
    private const double SmallestCertain = 0.01;
    private const double LargestCertain = 100_000;

    /// <summary>Writes the map; it loads without a fault as it stands.</summary>
    public static void Write(ProbeFindings findings, string place, ProbeExpectation? expectation, TextWriter output)
    {
        ArgumentNullException.ThrowIfNull(findings);
        ArgumentNullException.ThrowIfNull(output);
        RegisterSheet sheet = findings.Sheet;
        WordOrder order = LikelyOrder(sheet, expectation);
        output.WriteLine($"# Draft of a register map, read from {place}. Every line is a proposal: compare each reading with the device,");
        output.WriteLine("# then give names, roles, units, min and max (docs/reference/site-file.md). Addresses are zero-based protocol addresses.");
        output.WriteLine(MapColumns.Header);
        int address = sheet.First;
        while (address < sheet.First + sheet.Count)
        {
            address += sheet.TryGet(address, out _) ? WriteRow(sheet, Choose(sheet, address, order, expectation), output) : 1;
        }
    }

    /// <summary>The order of the reading next to the expected value; without one, that in which most pairs of registers are a number of a usual size.</summary>
    public static WordOrder LikelyOrder(RegisterSheet sheet, ProbeExpectation? expectation)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        if (expectation is { } e && RegisterInterpreter.Matches(sheet, e.Value, e.Within).Where(m => m.WordCount > 1 && m.Scale == 1).ToArray() is { Length: > 0 } wide)
        {
            return wide.MinBy(m => Math.Abs(m.Value - e.Value)).Order;
        }

        return RegisterInterpreter.Orders.MaxBy(o => Enumerable.Range(sheet.First, sheet.Count).Count(a => IsCertain(sheet, a, o)));
    }

    private static Interpretation Choose(RegisterSheet sheet, int address, WordOrder order, ProbeExpectation? expectation)
    {
        if (expectation is { } e && RegisterInterpreter.Matches(sheet, e.Value, e.Within).Where(m => m.Address == address && IsUsual(m, order)).ToArray() is [var match, ..])
        {
            return match;
        }

        if (IsCertain(sheet, address, order) && RegisterInterpreter.TryRead(sheet, address, WordType.Float32, order, out double real))
        {
            return new Interpretation(address, WordType.Float32, order, 1, real);
        }

        RegisterInterpreter.TryRead(sheet, address, WordType.UInt16, WordOrder.None, out double word);
        return new Interpretation(address, WordType.UInt16, WordOrder.None, 1, word);
    }

    /// <summary>A match that needs no second guess: one register, or the order of the rest of the range and no scale.</summary>
    private static bool IsUsual(Interpretation match, WordOrder order) =>
        (match.Type is WordType.UInt16 or WordType.Int16 && match.Scale is 1 or 0.1) || (match.Order == order && match.Scale == 1);

    private static bool IsCertain(RegisterSheet sheet, int address, WordOrder order) =>
        RegisterInterpreter.TryRead(sheet, address, WordType.Float32, order, out double value)
        && Math.Abs(value) is >= SmallestCertain and <= LargestCertain;

    private static int WriteRow(RegisterSheet sheet, Interpretation point, TextWriter output)
    {
        string table = AddressNotation.TableName(sheet.Table);
        bool ambiguous = AddressNotation.FromTraditional(sheet.Table, point.Address) is not null;
        string address = ambiguous ? $"0x{point.Address:X}" : point.Address.ToString(CultureInfo.InvariantCulture);
        string order = point.Order == WordOrder.None ? string.Empty : ProbeText.OrderName(point.Order);
        string scale = point.Scale.ToString(CultureInfo.InvariantCulture);
        string reading = point.Value.ToString("G7", CultureInfo.InvariantCulture);
        output.WriteLine($"{table}-{point.Address},record,{table},{address},{ProbeText.MapName(point.Type)},{order},,{scale},0,,,,,r, # {AddressNotation.Traditional(sheet.Table, point.Address)}, read {reading}");
        return point.WordCount;
    }
}
