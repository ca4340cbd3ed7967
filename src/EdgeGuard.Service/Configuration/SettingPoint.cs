using EdgeGuard.Modbus;

namespace EdgeGuard.Service.Configuration;

/// <summary>One setting of a device: where it stands and, once a snapshot was taken, what it was at commissioning.</summary>
public sealed record SettingPoint
{
    /// <summary>Name of the point in the register map.</summary>
    public required string Name { get; init; }

    /// <summary>Table.</summary>
    public required ModbusTable Table { get; init; }

    /// <summary>Zero-based protocol address of the first register or of the bit.</summary>
    public required ushort Address { get; init; }

    /// <summary>Registers it takes, 1 to 32.</summary>
    public required int Count { get; init; }

    /// <summary>Bits of the register that belong to the setting: all, or those of a bit or bit field.</summary>
    public ushort Mask { get; init; } = ushort.MaxValue;

    /// <summary>Registers as commissioned; empty when there is no snapshot.</summary>
    public IReadOnlyList<ushort> Commissioned { get; init; } = [];

    /// <summary>What the registers mean, for people: the reading as the map describes it.</summary>
    public required Func<ushort[], string> Reading { get; init; }
}
