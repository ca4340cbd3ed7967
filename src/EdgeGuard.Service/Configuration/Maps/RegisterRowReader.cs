using System.Globalization;
using EdgeGuard.Core.Signals;
using EdgeGuard.Modbus;

namespace EdgeGuard.Service.Configuration.Maps;

/// <summary>Judges the cells of one row of a register map and makes the point of it.</summary>
internal sealed class RegisterRowReader(List<MapCell> cells, FaultList faults)
{
    private const int MostScans = 600;
    private static readonly string[] Tables = ["coil", "discrete", "input", "holding"];
    private static readonly string[] Types = ["bit", "u16", "i16", "u32", "i32", "f32", "u64", "i64", "f64", "bcd16", "bcd32", "bits"];
    private static readonly string[] Orders = ["ABCD", "CDAB", "BADC", "DCBA"];

    /// <summary>The name of a type in the `type` column.</summary>
    public static string TypeName(WordType type) => Types[(int)type - 1];

    public RegisterPoint? Read()
    {
        int before = faults.Count;
        string name = ReadName();
        RoleFact? role = ReadRole(out bool recordOnly, out bool setting);
        ModbusTable table = ReadTable();
        WordType type = ReadType(table, out int textWords);
        int words = textWords > 0 ? textWords : WordTypes.WordCount(type);
        (int bit, int bitCount) = ReadBits(table, type);
        var point = new RegisterPoint
        {
            Name = name,
            Cells = cells,
            Role = role,
            RecordOnly = recordOnly,
            Setting = setting,
            Table = table,
            Type = type,
            TextWords = textWords,
            Address = ReadAddress(table, words),
            Order = ReadOrder(textWords > 0 ? 1 : words),
            Bit = bit,
            BitCount = bitCount,
            Scale = ReadScale(),
            Offset = Number(MapColumns.Offset, 0),
            Unit = cells[MapColumns.Unit].IsEmpty ? string.Empty : cells[MapColumns.Unit].Text,
            Min = Number(MapColumns.Min, double.NaN),
            Max = Number(MapColumns.Max, double.NaN),
            Sentinel = Number(MapColumns.Sentinel, double.NaN),
            Writable = ReadAccess(table),
            Volatile = ReadVolatile(),
            EveryScans = ReadEvery(),
        };
        RowMeaning.Check(point, faults);
        return faults.Count == before ? point : null;
    }

    private void Fault(int column, string what, string expected, string advice)
    {
        MapCell cell = cells[column];
        faults.Add(cell.At, what, cell.Text.Length == 0 ? "an empty cell" : Quoted.Of(cell.Text), expected, advice);
    }

    private string ReadName()
    {
        string name = cells[MapColumns.Name].Text;
        if (!PlainName.IsOne(name))
        {
            Fault(MapColumns.Name, "the name of the point cannot be used", PlainName.Expectation, "a name such as \"element\"");
        }

        return name;
    }

    private RoleFact? ReadRole(out bool recordOnly, out bool setting)
    {
        MapCell cell = cells[MapColumns.Role];
        recordOnly = string.Equals(cell.Text, RoleFacts.RecordOnly, StringComparison.Ordinal);
        setting = string.Equals(cell.Text, RoleFacts.Setting, StringComparison.Ordinal);
        if (cell.IsEmpty || recordOnly || setting)
        {
            return null;
        }

        RoleFact? role = RoleFacts.Find(cell.Text);
        if (role is null)
        {
            string[] names = [.. RoleFacts.All.Select(r => r.Name), RoleFacts.RecordOnly, RoleFacts.Setting];
            Fault(MapColumns.Role, "unknown role", "nothing, or one of " + string.Join(", ", names), NearMiss.Advice(cell.Text, names, $"\"{RoleFacts.RecordOnly}\" to poll and record it without a meaning to the unit"));
        }

        return role;
    }

    private ModbusTable ReadTable() => Word(MapColumns.Table, Tables, "unknown table") switch
    {
        0 => ModbusTable.Coils,
        1 => ModbusTable.DiscreteInputs,
        2 => ModbusTable.InputRegisters,
        3 => ModbusTable.HoldingRegisters,
        _ => ModbusTable.None,
    };

    private WordType ReadType(ModbusTable table, out int textWords)
    {
        string text = cells[MapColumns.Type].Text;
        bool isText = MapText.TryWords(text, out textWords);
        var type = isText ? WordType.None : (WordType)(Word(MapColumns.Type, [.. Types, "text8"], "unknown type") + 1);
        if (table is ModbusTable.Coils or ModbusTable.DiscreteInputs && (isText || type > WordType.Bit))
        {
            Fault(MapColumns.Type, "a coil or discrete input holds one bit", "\"bit\"", "\"bit\", or table \"holding\" or \"input\"");
        }

        return type;
    }

    private int ReadAddress(ModbusTable table, int words)
    {
        MapCell cell = cells[MapColumns.Address];
        bool hexadecimal = cell.Text.StartsWith("0x", StringComparison.Ordinal);
        ReadOnlySpan<char> digits = cell.Text.AsSpan(hexadecimal ? 2 : 0);
        NumberStyles style = hexadecimal ? NumberStyles.AllowHexSpecifier : NumberStyles.None;
        if (digits.Length > 10 || !long.TryParse(digits, style, CultureInfo.InvariantCulture, out long address))
        {
            Fault(MapColumns.Address, "the address is no whole number", $"a zero-based protocol address from 0 to {AddressNotation.Highest}", "the address in the device's register list, less 1 if that list counts from 1");
            return 0;
        }

        int? traditional = hexadecimal ? null : AddressNotation.FromTraditional(table, address);
        int last = AddressNotation.Highest - Math.Max(0, words - 1);
        if (address > last)
        {
            string advice = traditional is { } meant
                ? $"{meant}, if {address} is meant in the traditional notation"
                : "the zero-based protocol address of the device's register list";
            string width = words > 1 ? $" for a value of {(words == 2 ? "two" : words)} registers" : string.Empty;
            Fault(MapColumns.Address, "the address lies beyond the table", $"0 to {last}{width}", advice);
            return 0;
        }

        if (traditional is { } ambiguous)
        {
            Fault(MapColumns.Address, "the address may be a traditional number", "a zero-based protocol address that cannot be mistaken", $"{ambiguous}, if the device's list says {address} in the traditional notation, or 0x{address:X}, if it is the protocol address");
        }

        return (int)address;
    }

    private WordOrder ReadOrder(int words)
    {
        bool wide = words > 1;
        if (cells[MapColumns.Order].IsEmpty)
        {
            if (wide)
            {
                Fault(MapColumns.Order, $"the word order of a {16 * words}-bit value is missing", "one of " + string.Join(", ", Orders), "\"ABCD\" if the device sends the high word first, \"CDAB\" if the low word; compare a known reading");
            }

            return WordOrder.None;
        }

        int order = Word(MapColumns.Order, Orders, "unknown word order");
        if (words == 1 && order >= 0)
        {
            Fault(MapColumns.Order, "a value of one register has no word order", "an empty cell", "to empty the cell, or a 32-bit type");
        }

        return (WordOrder)(order + 1);
    }

    /// <summary>The bit of a "bit", the bits of "bits" as "4..7".</summary>
    private (int Bit, int Count) ReadBits(ModbusTable table, WordType type)
    {
        MapCell cell = cells[MapColumns.Bit];
        bool register = table is ModbusTable.InputRegisters or ModbusTable.HoldingRegisters;
        bool field = register && type == WordType.BitField;
        bool one = register && type == WordType.Bit;
        if (cell.IsEmpty && !one && !field)
        {
            return (0, 1);
        }

        bool good = MapText.TryBits(cell.Text, out int low, out int high);
        if (!one && !field)
        {
            Fault(MapColumns.Bit, "a bit number has no meaning here", "an empty cell", "to empty the cell, or type \"bit\" in table \"input\" or \"holding\"");
        }
        else if (one && !(good && low == high))
        {
            Fault(MapColumns.Bit, "the bit number is missing or wrong", "0 (least significant) to 15", "0 for the least significant bit");
        }
        else if (field && !(good && low < high))
        {
            Fault(MapColumns.Bit, "the bits are missing or wrong", "the lowest and the highest bit, \"0..3\" to \"0..15\"", "\"4..7\" for the second four bits, or type \"bit\" for a single one");
        }

        return good ? (low, high - low + 1) : (0, 1);
    }

    private double ReadScale()
    {
        double scale = Number(MapColumns.Scale, 1);
        if (scale == 0)
        {
            Fault(MapColumns.Scale, "the scale is zero", "engineering units per raw count, not 0", "1, or 0.1 for a register in tenths");
        }

        return scale;
    }

    private double Number(int column, double otherwise)
    {
        MapCell cell = cells[column];
        if (cell.IsEmpty)
        {
            return otherwise;
        }

        if (double.TryParse(cell.Text, NumberStyles.Float, CultureInfo.InvariantCulture, out double number) && double.IsFinite(number) && Math.Abs(number) < 1e12)
        {
            return number;
        }

        Fault(column, $"no usable number in column \"{MapColumns.Names[column]}\"", "a finite number with a decimal point, or an empty cell", "the number without unit and without separators of thousands");
        return double.NaN;
    }

    private bool ReadAccess(ModbusTable table)
    {
        bool writable = Word(MapColumns.Access, ["r", "rw"], "unknown access") == 1;
        if (table is ModbusTable.InputRegisters or ModbusTable.DiscreteInputs && writable)
        {
            Fault(MapColumns.Access, "this table cannot be written", "\"r\"", "\"r\", or table \"holding\" or \"coil\"");
        }

        return writable;
    }

    private bool ReadVolatile()
    {
        bool writable = string.Equals(cells[MapColumns.Access].Text, "rw", StringComparison.Ordinal);
        if (!writable && cells[MapColumns.Volatile].IsEmpty)
        {
            return false;
        }

        return Word(MapColumns.Volatile, ["no", "yes"], "unknown answer in column \"volatile\"") == 1;
    }

    private int ReadEvery()
    {
        if (cells.Count <= MapColumns.Every || cells[MapColumns.Every].IsEmpty)
        {
            return 1;
        }

        bool good = int.TryParse(cells[MapColumns.Every].Text, NumberStyles.None, CultureInfo.InvariantCulture, out int scans) && scans is >= 1 and <= MostScans;
        if (!good)
        {
            Fault(MapColumns.Every, "no usable number in column \"every\"", $"1 to {MostScans}: read in every so many scans", "an empty cell to read it in every scan");
        }

        return good ? scans : 1;
    }

    private int Word(int column, string[] words, string what)
    {
        int index = Array.IndexOf(words, cells[column].Text);
        if (index < 0)
        {
            string expected = "one of " + string.Join(", ", words.Select(w => $"\"{w}\""));
            Fault(column, what, expected, NearMiss.Advice(cells[column].Text, words, expected));
        }

        return index;
    }
}
