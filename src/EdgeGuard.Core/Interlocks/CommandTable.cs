using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>Settings of one written point as far as the core needs them.</summary>
public sealed record CommandTable
{
    /// <summary>What the point does.</summary>
    public required CommandRole Role { get; init; }

    /// <summary>The signal that reads the point back; null when the device offers none.</summary>
    public SignalRole? ReadBack { get; init; }

    /// <summary>Difference up to which a read-back agrees, in engineering units.</summary>
    public required double Tolerance { get; init; }
}
