using EdgeGuard.Modbus;

namespace EdgeGuard.Service.Configuration;

/// <summary>One read request of a scan.</summary>
public sealed record PollBlock
{
    /// <summary>Index in <see cref="SiteConfiguration.Links"/>.</summary>
    public required int LinkIndex { get; init; }

    /// <summary>Modbus unit id of the device.</summary>
    public required byte DeviceUnitId { get; init; }

    /// <summary>Table that is read.</summary>
    public required ModbusTable Table { get; init; }

    /// <summary>First zero-based protocol address.</summary>
    public required ushort Address { get; init; }

    /// <summary>Number of registers (at most 125) or bits.</summary>
    public required int Count { get; init; }
}
