using EdgeGuard.Modbus;

namespace EdgeGuard.Service.Probing;

/// <summary>What is read, and how politely.</summary>
public sealed record ProbeOptions
{
    /// <summary>Registers of a probe at most: a range is looked at by a person.</summary>
    public const int MostRegisters = 1_000;

    /// <summary>Modbus unit id, 0 to 255.</summary>
    public required byte UnitId { get; init; }

    /// <summary>Input or holding registers.</summary>
    public required ModbusTable Table { get; init; }

    /// <summary>First zero-based protocol address.</summary>
    public required int First { get; init; }

    /// <summary>Number of registers, 1 to <see cref="MostRegisters"/>; the last one at 65535.</summary>
    public required int Count { get; init; }

    /// <summary>Registers of one request, 1 to 125.</summary>
    public int Chunk { get; init; } = 16;

    /// <summary>Requests a second at most.</summary>
    public double RequestsPerSecond { get; init; } = 5;

    /// <summary>How often the range is read; the values are those of the last time.</summary>
    public int Rounds { get; init; } = 3;

    /// <summary>Time limit of connecting, ms.</summary>
    public int ConnectMs { get; init; } = 2_000;

    /// <summary>Time limit of one answer, ms.</summary>
    public int AnswerMs { get; init; } = 1_000;
}
