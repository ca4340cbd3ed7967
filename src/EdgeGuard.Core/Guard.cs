using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core;

/// <summary>
/// The interlock core as a function with memory: one <see cref="Step"/> a scan, no I/O, no clock, no randomness,
/// no allocation after construction. The same sequence of scans gives the same decisions bit for bit.
/// </summary>
/// <remarks>
/// All units are decoded first, then the shared supply is summed up, then the units decide in table order. A broken
/// invariant inside one unit trips that unit (<see cref="FunctionId.Self"/>); only a broken shared loop throws.
/// </remarks>
public sealed class Guard
{
    private readonly SiteTable _site;
    private readonly EventSink _sink = new();
    private readonly UnitGuard[] _units;
    private readonly SupplyBudget _supply;
    private long _nextScan;
    private long _skippedScans;

    /// <summary>Allocates all state for a site; every unit starts tripped with cause <see cref="FunctionId.Start"/>.</summary>
    /// <param name="site">The site.</param>
    /// <param name="kept">What the units bring along from the runs before, in the order of the site; null or too short: nothing.</param>
    public Guard(SiteTable site, IReadOnlyList<KeptFigures>? kept = null)
    {
        ArgumentNullException.ThrowIfNull(site);
        ArgumentOutOfRangeException.ThrowIfLessThan(site.ScanMs, 1);
        _site = site;
        var memories = new UnitMemory[site.Units.Count];
        for (int i = 0; i < memories.Length; i++)
        {
            memories[i] = new UnitMemory(site, i, kept is not null && i < kept.Count ? kept[i] : null);
        }

        _supply = new SupplyBudget(memories, site);
        _units = new UnitGuard[memories.Length];
        for (int i = 0; i < memories.Length; i++)
        {
            _units[i] = new UnitGuard(memories[i], _supply, _sink);
        }
    }

    /// <summary>Decides one scan.</summary>
    /// <param name="scan">Everything that decides; <see cref="RawScan.Scan"/> begins at 0 and must follow the previous one.</param>
    /// <param name="output">Overwritten with the decisions.</param>
    /// <exception cref="InvalidOperationException">The shared loop is broken (scan number, array sizes).</exception>
    public void Step(RawScan scan, ScanOutput output)
    {
        ArgumentNullException.ThrowIfNull(scan);
        ArgumentNullException.ThrowIfNull(output);
        AssertLoop(scan, output);
        _nextScan++;
        _skippedScans += scan.Scan == 0 ? 0 : scan.SkippedScans;
        long nominalScan = scan.Scan + _skippedScans;

        // A watermark beyond what was ever raised is another run's: nothing of this run is known to be durable.
        long lastDurable = scan.DurableEvent <= _sink.LastSequence ? scan.DurableEvent : 0;
        output.Scan = scan.Scan;
        _sink.BeginScan(scan, output);
        for (int i = 0; i < _units.Length; i++)
        {
            _units[i].Prepare(scan, nominalScan, lastDurable, output.Units[i]);
        }

        _supply.BeginScan(nominalScan);
        output.SitePowerKw = _supply.SitePowerKw;
        for (int i = 0; i < _units.Length; i++)
        {
            _units[i].Decide(output.Units[i], lastDurable);
        }
    }

    private void AssertLoop(RawScan scan, ScanOutput output)
    {
        if (output.Units.Length != _site.Units.Count)
        {
            throw new InvalidOperationException("The output was allocated for another site.");
        }

        bool sizes = scan.Blocks.Length == _site.BlockWordCounts.Count
            && scan.Requests.Length == _units.Length
            && scan.Feedback.Length == _units.Length * CommandRoles.Count;
        if (!sizes)
        {
            throw new InvalidOperationException("The scan was allocated for another site.");
        }

        if (scan.Scan != _nextScan)
        {
            throw new InvalidOperationException("The scan number does not follow the previous one.");
        }

        if (scan.SkippedScans < 0)
        {
            throw new InvalidOperationException("The number of skipped scans is negative.");
        }
    }
}
