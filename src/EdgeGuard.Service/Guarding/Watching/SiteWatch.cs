using EdgeGuard.Core.Alarms;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Records.Kept;

namespace EdgeGuard.Service.Guarding.Watching;

/// <summary>
/// Alarms, stress and use of all units of a site, and how much the people on watch are asked to take. One of the copies
/// of a scan: it comes after every effect, on the scan thread, and allocates nothing. Use counts on from the runs before, alarms since start.
/// </summary>
internal sealed class SiteWatch : IScanCopy
{
    private readonly UnitWatch[] _units;
    private readonly bool[] _acknowledged;

    public SiteWatch(SiteTable site)
    {
        _units = [.. site.Units.Select(u => new UnitWatch(u, site.ScanMs))];
        _acknowledged = new bool[_units.Length];
        Rates = new AlarmRates(site.ScanMs);
    }

    /// <summary>Counts on from what the runs before left.</summary>
    public void Restore(KeptRecord[] records, bool[] taken)
    {
        for (int i = 0; i < _units.Length; i++)
        {
            _units[i].Restore(records[i], taken[i]);
        }
    }

    public AlarmRates Rates { get; }

    public UnitWatch this[int unit] => _units[unit];

    /// <inheritdoc/>
    public void Copy(in ScanTick tick, RawScan scan, ScanOutput output)
    {
        Rates.Step(scan.Scan);
        Array.Clear(_acknowledged);
        for (int i = 0; i < output.EventCount; i++)
        {
            ref GuardEvent told = ref output.Events[i];
            if (told.Id == EventId.Acknowledged && (uint)told.Unit < (uint)_units.Length)
            {
                _acknowledged[told.Unit] = true;
            }

            if (told is { Id: EventId.LearningBegun, Function: FunctionId.Phas } && (uint)told.Unit < (uint)_units.Length)
            {
                _units[told.Unit].Legs?.LearnAnew();
            }
        }

        for (int unit = 0; unit < _units.Length; unit++)
        {
            _units[unit].Step(scan.Scan, scan.UtcUnixMs, output.Units[unit], _acknowledged[unit], Rates);
        }
    }
}
