using EdgeGuard.Core;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Service.Guarding;

/// <summary>The interlock core behind <see cref="IGuardStep"/>.</summary>
public sealed class CoreStep : IGuardStep
{
    private readonly Guard _guard;

    /// <summary>Allocates the core's state; every unit starts tripped.</summary>
    /// <param name="site">The site.</param>
    /// <param name="kept">What the units bring along from the runs before.</param>
    public CoreStep(SiteTable site, IReadOnlyList<KeptFigures>? kept = null) => _guard = new Guard(site, kept);

    /// <inheritdoc/>
    public void Step(RawScan scan, ScanOutput output) => _guard.Step(scan, output);
}
