using EdgeGuard.Core.Interlocks;

namespace EdgeGuard.Demo;

/// <summary>What the person asked of the demo.</summary>
internal sealed record DemoOptions
{
    /// <summary>Whether the guard acts (enforce) or only watches (observe).</summary>
    public required UnitMode Mode { get; init; }

    /// <summary>Simulated seconds per second; 0 runs as fast as the machine can.</summary>
    public required double Pace { get; init; }

    /// <summary>Go on in real time after the story, until Ctrl+C.</summary>
    public required bool Serve { get; init; }

    /// <summary>Folder for site, journal, ledger and report.</summary>
    public required string Folder { get; init; }
}
