using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Modbus;

namespace EdgeGuard.Service.FieldIo;

/// <summary>One written point: where a command of a unit goes and how its value becomes words.</summary>
public sealed record WritePointTable
{
    /// <summary>Index of the unit in the site table.</summary>
    public required int Unit { get; init; }

    /// <summary>What the point does.</summary>
    public required CommandRole Role { get; init; }

    /// <summary>Unit id of the device, 0 to 255.</summary>
    public required byte UnitId { get; init; }

    /// <summary>Holding registers or coils.</summary>
    public required ModbusTable Table { get; init; }

    /// <summary>Zero-based protocol address.</summary>
    public required ushort Address { get; init; }

    /// <summary>Type of the raw value; ignored for a coil.</summary>
    public required WordType Type { get; init; }

    /// <summary>Byte order of a 32-bit value.</summary>
    public WordOrder Order { get; init; }

    /// <summary>Engineering value = raw × Scale + Offset.</summary>
    public double Scale { get; init; } = 1;

    /// <summary>Added after scaling, in the engineering unit.</summary>
    public double Offset { get; init; }

    /// <summary>Lowest engineering value of an energising write; below it nothing is written.</summary>
    public double Min { get; init; } = double.NegativeInfinity;

    /// <summary>Highest engineering value of an energising write; above it nothing is written.</summary>
    public double Max { get; init; } = double.PositiveInfinity;

    /// <summary>Index among all commands of the site: unit × <see cref="CommandRoles.Count"/> + role.</summary>
    public int Index => (Unit * CommandRoles.Count) + (int)Role;
}
