using System.Globalization;
using EdgeGuard.Core.Signals;
using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Records.Journal;
using EdgeGuard.Service.Configuration.Maps;

namespace EdgeGuard.Service.Probing;

/// <summary>
/// The findings of a probe as tables: every register in every type of its width, every order side by side. What is
/// implausible is a dot, so that the eye falls on what is left; what fits an expected value carries a star.
/// </summary>
public static class ProbeText
{
    private const string Blank = "·";
    private const int MostMatches = 40;

    /// <summary>Writes all that was found.</summary>
    public static void Write(ProbeFindings findings, ProbeExpectation? expectation, TextWriter output)
    {
        ArgumentNullException.ThrowIfNull(findings);
        ArgumentNullException.ThrowIfNull(output);
        RegisterSheet sheet = findings.Sheet;
        WriteOneWord(sheet, expectation, output);
        WriteWide(sheet, "Two registers", WordType.Float32, [WordType.UInt32, WordType.Int32], expectation, output);
        WriteWide(sheet, "Four registers", WordType.Float64, [WordType.UInt64, WordType.Int64], expectation, output);
        WriteRefused(findings, output);
        if (expectation is { } expected)
        {
            WriteMatches(sheet, expected, output);
        }
    }

    /// <summary>How the device answered, in one line each.</summary>
    public static void WriteTimes(ProbeFindings findings, TextWriter output)
    {
        ArgumentNullException.ThrowIfNull(findings);
        ArgumentNullException.ThrowIfNull(output);
        output.WriteLine(Invariant($"{Counted.Of(findings.Requests, "request")}, {findings.RoundTripsMs.Count} answered, {findings.Silent} without a fitting answer; {findings.Sheet.Known} of {findings.Sheet.Count} registers read"));
        if (findings.RoundTripsMs.Count > 0)
        {
            output.WriteLine(Invariant($"round trip {findings.MedianMs:F1} ms median, {findings.RoundTripsMs.Min():F1} to {findings.RoundTripsMs.Max():F1} ms, 90 % within {findings.Quantile(0.9):F1} ms; jitter {(double.IsNaN(findings.JitterMs) ? 0 : findings.JitterMs):F1} ms (mean difference of neighbours)"));
        }

        if (findings.Silent > 0)
        {
            output.WriteLine("without a fitting answer: " + Advice(findings.LastFailure));
        }
    }

    private static string Advice(ModbusOutcome failure) => failure switch
    {
        ModbusOutcome.Timeout => "no answer in time; is the unit id right, is the device on, is --answer-ms long enough?",
        ModbusOutcome.BadAnswer => "an answer that does not fit the request; another unit id or another client behind the same gateway?",
        _ => "the connection broke; does the device serve one client only, and is another one connected (a running guard)?",
    };

    private static void WriteOneWord(RegisterSheet sheet, ProbeExpectation? expectation, TextWriter output)
    {
        var table = new TextTable("register", "traditional", "hex", "u16", "i16", "bcd16", "text", "");
        for (int address = sheet.First; address < sheet.First + sheet.Count; address++)
        {
            if (sheet.TryGet(address, out ushort word))
            {
                string signed = word > short.MaxValue ? Cell(sheet, address, WordType.Int16, WordOrder.None, expectation) : Blank;
                table.Add(Name(sheet, address), AddressNotation.Traditional(sheet.Table, address), word.ToString("X4", CultureInfo.InvariantCulture), Cell(sheet, address, WordType.UInt16, WordOrder.None, expectation), signed, Cell(sheet, address, WordType.Bcd16, WordOrder.None, expectation), WordText.Of([word]), sheet.HasChanged(address) ? "changes" : "");
            }
        }

        output.WriteLine();
        table.Write(output);
    }

    private static void WriteWide(RegisterSheet sheet, string title, WordType real, WordType[] whole, ProbeExpectation? expectation, TextWriter output)
    {
        string name = MapName(real);
        string integer = $"i{name[1..]}";
        var table = new TextTable([title, .. RegisterInterpreter.Orders.Select(o => $"{name} {OrderName(o)}"), .. RegisterInterpreter.Orders.Select(o => $"{integer} {OrderName(o)}")]);
        for (int address = sheet.First; address < sheet.First + sheet.Count; address++)
        {
            string[] reals = [.. RegisterInterpreter.Orders.Select(o => RealCell(sheet, address, real, o, expectation))];
            string[] wholes = [.. RegisterInterpreter.Orders.Select(o => WholeCell(sheet, address, whole, o, expectation))];
            if (reals.Concat(wholes).Any(c => c != Blank))
            {
                table.Add([Name(sheet, address), .. reals, .. wholes]);
            }
        }

        if (!table.IsEmpty)
        {
            output.WriteLine();
            table.Write(output);
        }
    }

    private static string RealCell(RegisterSheet sheet, int address, WordType type, WordOrder order, ProbeExpectation? expectation) =>
        RegisterInterpreter.TryRead(sheet, address, type, order, out double value) && RegisterInterpreter.IsPlausible(value)
            ? Marked(value.ToString("G7", CultureInfo.InvariantCulture), value, expectation)
            : Blank;

    /// <summary>Unsigned, or signed where that is the smaller number; very large ones are no reading.</summary>
    private static string WholeCell(RegisterSheet sheet, int address, WordType[] types, WordOrder order, ProbeExpectation? expectation)
    {
        bool unsigned = RegisterInterpreter.TryRead(sheet, address, types[0], order, out double positive);
        bool signed = RegisterInterpreter.TryRead(sheet, address, types[1], order, out double either);
        if (!unsigned && !signed)
        {
            return Blank;
        }

        double value = signed && (!unsigned || Math.Abs(either) < positive) ? either : positive;
        return RegisterInterpreter.IsPlausible(value) ? Marked(value.ToString("F0", CultureInfo.InvariantCulture), value, expectation) : Blank;
    }

    private static string Cell(RegisterSheet sheet, int address, WordType type, WordOrder order, ProbeExpectation? expectation) =>
        RegisterInterpreter.TryRead(sheet, address, type, order, out double value)
            ? Marked(value.ToString("F0", CultureInfo.InvariantCulture), value, expectation)
            : Blank;

    private static string Marked(string text, double value, ProbeExpectation? expectation) =>
        expectation is { } e && Math.Abs(value - e.Value) <= e.Within ? text + "*" : text;

    /// <summary>The registers that the device refused, and what its exception code asks of the person.</summary>
    public static void WriteRefused(ProbeFindings findings, TextWriter output)
    {
        ArgumentNullException.ThrowIfNull(findings);
        ArgumentNullException.ThrowIfNull(output);
        if (findings.Refused.Count == 0)
        {
            return;
        }

        output.WriteLine();
        foreach (IGrouping<ModbusExceptionCode, int> group in findings.Refused.GroupBy(r => r.Value, r => r.Key))
        {
            output.WriteLine(Invariant($"refused with exception {(int)group.Key:X2}: {Ranges(group)}{Advice(group.Key)}"));
        }
    }

    /// <summary>Meanings of the Modbus application protocol V1.1b3, clause 7.</summary>
    private static string Advice(ModbusExceptionCode code) => code switch
    {
        ModbusExceptionCode.IllegalFunction => "; the device has no such table: is it the other one (--table)?",
        ModbusExceptionCode.IllegalDataAddress => "; no such registers: is --from the zero-based protocol address (40001 is 0), is it the right table?",
        ModbusExceptionCode.GatewayPathUnavailable or ModbusExceptionCode.GatewayTargetFailedToRespond => "; a gateway says that nobody answers behind it: is the unit id right (--unit-id), is the device on?",
        _ => string.Empty,
    };

    private static string Ranges(IEnumerable<int> addresses)
    {
        var parts = new List<(int First, int Last)>();
        foreach (int address in addresses.Order())
        {
            if (parts.Count > 0 && parts[^1].Last == address - 1)
            {
                parts[^1] = (parts[^1].First, address);
            }
            else
            {
                parts.Add((address, address));
            }
        }

        return string.Join(", ", parts.Select(p => p.First == p.Last ? Invariant($"{p.First}") : Invariant($"{p.First} to {p.Last}")));
    }

    private static void WriteMatches(RegisterSheet sheet, ProbeExpectation expected, TextWriter output)
    {
        IReadOnlyList<Interpretation> matches = RegisterInterpreter.Matches(sheet, expected.Value, expected.Within);
        output.WriteLine();
        output.WriteLine(Invariant($"{(matches.Count == 0 ? "Nothing reads" : "Reads")} as {expected.Value} ± {expected.Within}{(matches.Count == 0 ? ": is the range right, does the value stand still, is it scaled otherwise?" : ":")}"));
        foreach (Interpretation match in matches.Take(MostMatches))
        {
            string order = match.Order == WordOrder.None ? "" : " " + OrderName(match.Order);
            string scale = match.Scale == 1 ? "" : Invariant($", scale {match.Scale}");
            output.WriteLine(Invariant($"  {AddressNotation.Of(sheet.Table, match.Address)}: {MapName(match.Type)}{order}{scale} = {match.Value:G7}"));
        }

        if (matches.Count > MostMatches)
        {
            output.WriteLine(Invariant($"  and {matches.Count - MostMatches} more; a smaller --within tells them apart"));
        }
    }

    internal static string OrderName(WordOrder order) => order.ToString().ToUpperInvariant();

    internal static string MapName(WordType type) => RegisterRowReader.TypeName(type);

    private static string Name(RegisterSheet sheet, int address) => Invariant($"{AddressNotation.TableName(sheet.Table)} {address}");

    private static string Invariant(FormattableString text) => FormattableString.Invariant(text);
}
