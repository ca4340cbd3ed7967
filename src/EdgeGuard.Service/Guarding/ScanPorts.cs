using EdgeGuard.Service.FieldIo;

namespace EdgeGuard.Service.Guarding;

/// <summary>Everything the scan thread touches besides memory of its own.</summary>
public sealed record ScanPorts
{
    /// <summary>When to scan.</summary>
    public required IPacer Pacer { get; init; }

    /// <summary>The core.</summary>
    public required IGuardStep Core { get; init; }

    /// <summary>Words in, writes out.</summary>
    public required IFieldPort Field { get; init; }

    /// <summary>The journal.</summary>
    public required IEventPort Events { get; init; }

    /// <summary>Requests of people.</summary>
    public required IRequestPort Requests { get; init; }

    /// <summary>Ring, raw recording and status, in the order in which they are served.</summary>
    public required IReadOnlyList<IScanCopy> Copies { get; init; }

    /// <summary>Clock of the field, on which the nominal times stand.</summary>
    public required FieldClock Clock { get; init; }
}
