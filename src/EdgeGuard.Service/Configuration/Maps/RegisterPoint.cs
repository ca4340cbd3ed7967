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

    public required ModbusTable Table { get; init; }

    public required int Address { get; init; }

    public required WordType Type { get; init; }

    public WordOrder Order { get; init; }

    public int Bit { get; init; }

    public double Scale { get; init; } = 1;

    public double Offset { get; init; }

    public string Unit { get; init; } = string.Empty;

    public double Min { get; init; } = double.NaN;

    public double Max { get; init; } = double.NaN;

    public double Sentinel { get; init; } = double.NaN;

    public bool Writable { get; init; }

    public bool Volatile { get; init; }

    public int WordCount => Type is WordType.UInt32 or WordType.Int32 or WordType.Float32 ? 2 : 1;

    public bool IsBitTable => Table is ModbusTable.Coils or ModbusTable.DiscreteInputs;

    /// <summary>Both notations of the address, such as "holding 5 (traditional 40006)".</summary>
    public string AddressText => AddressNotation.Of(Table, Address);

    public TextPosition Place(int column) => Cells[column].At;
}
