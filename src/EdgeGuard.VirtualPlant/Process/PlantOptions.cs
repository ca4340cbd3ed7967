using EdgeGuard.VirtualPlant.Profiles;

namespace EdgeGuard.VirtualPlant.Process;

/// <summary>How the plant process was asked to run.</summary>
public sealed record PlantOptions
{
    /// <summary>Units to play, in order.</summary>
    public required IReadOnlyList<PlantProfile> Profiles { get; init; }

    /// <summary>Port of the first unit, the next ones follow; 0 takes a free one for each.</summary>
    public int Port { get; init; } = 15020;

    /// <summary>True when the ports speak RTU frames inside the connection, as behind a serial device server in raw mode.</summary>
    public bool IsRtuOverTcp { get; init; }

    /// <summary>Serial ports on which the units answer beside their TCP port, in the order of the units; may be fewer.</summary>
    public IReadOnlyList<string> SerialPorts { get; init; } = [];

    /// <summary>Bit rate of the serial ports, bit/s; even parity, one stop bit.</summary>
    public int BaudRate { get; init; } = 19_200;

    /// <summary>The plant's clock at its start.</summary>
    public required DateTime StartUtc { get; init; }

    /// <summary>File for the ledger, rewritten at each `ledger` and at the end; null for none.</summary>
    public string? LedgerFile { get; init; }

    /// <summary>File to which a row per unit and second is appended; null for none.</summary>
    public string? TraceFile { get; init; }

    /// <summary>True when time moves by `advance` only.</summary>
    public bool Conducted { get; init; }

    /// <summary>True when a short line of figures is wanted each few seconds (real time, a person watching).</summary>
    public bool LiveLine { get; init; }
}
