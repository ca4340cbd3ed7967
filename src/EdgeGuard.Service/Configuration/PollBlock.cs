using EdgeGuard.Modbus;

namespace EdgeGuard.Service.Configuration;

/// <summary>One read request.</summary>
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

    /// <summary>Read in every so many scans, 1 or more.</summary>
    public int EveryScans { get; init; } = 1;

    /// <summary>Used parts in rising order; what lies between them is a gap that a device may refuse to read.</summary>
    public IReadOnlyList<PollSpan> Spans { get; init; } = [];

    /// <summary>Time the device takes before it answers, ms; only for the estimate of the bus load.</summary>
    public double AnswerDelayMs { get; init; }
}
