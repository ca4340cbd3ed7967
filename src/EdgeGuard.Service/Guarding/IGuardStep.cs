using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Service.Guarding;

/// <summary>The core as the scan thread calls it; a seam so that tests can decide and the order of effects be watched.</summary>
public interface IGuardStep
{
    /// <summary>Decides one scan; see <see cref="Core.Guard.Step"/>.</summary>
    void Step(RawScan scan, ScanOutput output);
}
