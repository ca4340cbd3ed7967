using EdgeGuard.Core;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Service.Guarding;

/// <summary>The interlock core behind <see cref="IGuardStep"/>.</summary>
public sealed class CoreStep : IGuardStep
{
    private readonly Guard _guard;

    /// <summary>Allocates the core's state; every unit starts tripped.</summary>
    public CoreStep(SiteTable site) => _guard = new Guard(site);

    /// <inheritdoc/>
    public void Step(RawScan scan, ScanOutput output) => _guard.Step(scan, output);
}
