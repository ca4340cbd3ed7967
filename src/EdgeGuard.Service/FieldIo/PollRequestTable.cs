using EdgeGuard.Modbus;
using EdgeGuard.Service.Configuration;

namespace EdgeGuard.Service.FieldIo;

/// <summary>One poll request: which words of which device make up which block of the scan.</summary>
public sealed record PollRequestTable
{
    /// <summary>Index of the block in <see cref="Core.Signals.RawScan.Blocks"/>.</summary>
    public required int Block { get; init; }

    /// <summary>Unit id of the device, 0 to 255.</summary>
    public required byte UnitId { get; init; }

    /// <summary>Table that is read.</summary>
    public required ModbusTable Table { get; init; }

    /// <summary>First address, zero-based protocol address.</summary>
    public required ushort Address { get; init; }

    /// <summary>Number of registers (1 to 125) or bits (1 to 2000).</summary>
    public required int Count { get; init; }

    /// <summary>Polled in every so many rounds, 1 or more.</summary>
    public int EveryScans { get; init; } = 1;

    /// <summary>Used parts in rising order, for a device that refuses to read the gaps between them; empty when all is used.</summary>
    public IReadOnlyList<PollSpan> Spans { get; init; } = [];
}
