using EdgeGuard.Core.Signals;
using EdgeGuard.Modbus;

namespace EdgeGuard.Service.Configuration.Maps;

/// <summary>One row of a register map.</summary>
internal sealed record RegisterPoint
{
    public required string Name { get; init; }

    /// <summary>The cells of the row, for the places of messages.</summary>
    public required IReadOnlyList<MapCell> Cells { get; init; }

    public TextPosition At => Place(MapColumns.Name);

    /// <summary>Meaning to the unit; null for a point without one.</summary>
    public RoleFact? Role { get; init; }

    /// <summary>True for a point that is polled and recorded without a role.</summary>
    public bool RecordOnly { get; init; }

    /// <summary>True for a setting of the device: compared with its snapshot, not polled.</summary>
    public bool Setting { get; init; }

    public required ModbusTable Table { get; init; }

    public required int Address { get; init; }

    public required WordType Type { get; init; }

    public WordOrder Order { get; init; }

    public int Bit { get; init; }

    /// <summary>Number of bits of a bit field.</summary>
    public int BitCount { get; init; } = 1;

    /// <summary>Registers of a text, two characters each; 0 for a number.</summary>
    public int TextWords { get; init; }

    /// <summary>Read in every so many scans.</summary>
    public int EveryScans { get; init; } = 1;

    public double Scale { get; init; } = 1;

    public double Offset { get; init; }

    public string Unit { get; init; } = string.Empty;

    public double Min { get; init; } = double.NaN;

    public double Max { get; init; } = double.NaN;

    public double Sentinel { get; init; } = double.NaN;

    public bool Writable { get; init; }

    public bool Volatile { get; init; }

    public int WordCount => TextWords > 0 ? TextWords : Math.Max(1, WordTypes.WordCount(Type));

    public bool IsBitTable => Table is ModbusTable.Coils or ModbusTable.DiscreteInputs;

    /// <summary>Both notations of the address, such as "holding 5 (traditional 40006)".</summary>
    public string AddressText => AddressNotation.Of(Table, Address);

    public TextPosition Place(int column) => Cells[column].At;
}
