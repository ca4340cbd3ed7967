using EdgeGuard.Modbus;

namespace EdgeGuard.Service.Configuration.Maps;

/// <summary>
/// Addresses in both notations. The traditional number (first digit names the table, counted from 1) is widespread
/// custom, not part of the protocol; it has five digits up to 9999 registers and six beyond.
/// </summary>
internal static class AddressNotation
{
    public const int Highest = 65_535; // Modbus Application Protocol V1.1b3, section 4.4: 16-bit address.

    public static string Of(ModbusTable table, int address) => $"{TableName(table)} {address} (traditional {Traditional(table, address)})";

    public static string TableName(ModbusTable table) => table switch
    {
        ModbusTable.Coils => "coil",
        ModbusTable.DiscreteInputs => "discrete",
        ModbusTable.InputRegisters => "input",
        _ => "holding",
    };

    public static string Traditional(ModbusTable table, int address)
    {
        int digit = table switch
        {
            ModbusTable.Coils => 0,
            ModbusTable.DiscreteInputs => 1,
            ModbusTable.InputRegisters => 3,
            _ => 4,
        };
        string number = address < 9_999 ? $"{address + 1:D4}" : $"{address + 1:D5}";
        return $"{digit}{number}";
    }

    /// <summary>The protocol address that a number means if it is a traditional one of this table (five or six digits); null when it is none.</summary>
    public static int? FromTraditional(ModbusTable table, long number)
    {
        (long five, long six) = table switch
        {
            ModbusTable.DiscreteInputs => (10_001L, 100_001L),
            ModbusTable.InputRegisters => (30_001L, 300_001L),
            ModbusTable.HoldingRegisters => (40_001L, 400_001L),
            _ => (long.MaxValue, long.MaxValue),
        };
        if (number >= five && number < five + 9_999)
        {
            return (int)(number - five);
        }

        return number >= six && number <= six + Highest ? (int)(number - six) : null;
    }
}
