using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Modbus;

namespace EdgeGuard.Service.Configuration;

/// <summary>One written point as the shell needs it. Raw value = (engineering value − Offset) ÷ Scale.</summary>
public sealed record CommandPoint
{
    /// <summary>Index of the unit in the site table.</summary>
    public required int Unit { get; init; }

    /// <summary>What the point does.</summary>
    public required CommandRole Role { get; init; }

    /// <summary>Index in <see cref="SiteConfiguration.Links"/>.</summary>
    public required int LinkIndex { get; init; }

    /// <summary>Modbus unit id of the device.</summary>
    public required byte DeviceUnitId { get; init; }

    /// <summary>Coils or holding registers.</summary>
    public required ModbusTable Table { get; init; }

    /// <summary>Zero-based protocol address of the first word or of the coil.</summary>
    public required ushort Address { get; init; }

    /// <summary>Type of the raw value; <see cref="WordType.Bit"/> for coils only.</summary>
    public required WordType Type { get; init; }

    /// <summary>Byte order of a 32-bit value.</summary>
    public required WordOrder Order { get; init; }

    /// <summary>Engineering units per raw count, never 0.</summary>
    public required double Scale { get; init; }

    /// <summary>Engineering value of raw 0.</summary>
    public required double Offset { get; init; }

    /// <summary>Lowest engineering value that may be written.</summary>
    public required double Min { get; init; }

    /// <summary>Highest engineering value that may be written.</summary>
    public required double Max { get; init; }

    /// <summary>True when the register may be written without end; always true in a loaded site.</summary>
    public required bool Volatile { get; init; }

    /// <summary>Device, point and both address notations, for messages.</summary>
    public required string Description { get; init; }
}
