using EdgeGuard.Core.Electrical;

namespace EdgeGuard.Core.Interlocks;

/// <summary>Settings of PHAS: phase loss and unbalance of the three line currents.</summary>
public sealed record PhaseTable
{
    /// <summary>How the legs are connected.</summary>
    public required HeaterConnection Connection { get; init; }

    /// <summary>Alloy of the legs, a name of <see cref="HeatingAlloys"/>: their resistance is followed over the years; null: not followed.</summary>
    public string? Alloy { get; init; }

    /// <summary>Judged at this output and above, per cent of full power, mean of a block.</summary>
    public double DemandPercent { get; init; } = 20;

    /// <summary>Length of a block, ms: whole firing cycles, since a burst read at an instant is full or nothing.</summary>
    public required int BlockMs { get; init; }

    /// <summary>Unbalance that removes power, per cent.</summary>
    public required double HardPercent { get; init; }

    /// <summary>Unbalance that shuts down in a controlled way, per cent.</summary>
    public required double MildPercent { get; init; }

    /// <summary>Delay of the removal beyond the block, ms.</summary>
    public required int HardDelayMs { get; init; }

    /// <summary>Delay of the controlled shutdown beyond the block, ms.</summary>
    public required int MildDelayMs { get; init; }

    /// <summary>Currents up to this count as none, A.</summary>
    public required double NoiseAmpere { get; init; }
}
