using EdgeGuard.Core.Alarms;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Records.Kept;

namespace EdgeGuard.Service.Guarding.Watching;

/// <summary>
/// Stress and use of all units of a site, and how much its alarms ask of the people on watch. One of the copies
/// of a scan: it comes after every effect, on the scan thread, and allocates nothing. Use counts on from the runs before, alarms since start.
/// </summary>
internal sealed class SiteWatch : IScanCopy
{
    private readonly UnitWatch[] _units;

    public SiteWatch(SiteTable site)
    {
        _units = [.. site.Units.Select(u => new UnitWatch(u, site.ScanMs))];
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

    /// <summary>Alarms of the site by what is the matter with them in the latest scan.</summary>
    public AlarmTally Tally { get; private set; }

    public UnitWatch this[int unit] => _units[unit];

    /// <inheritdoc/>
    public void Copy(in ScanTick tick, RawScan scan, ScanOutput output)
    {
        Rates.Step(scan.Scan);
        for (int i = 0; i < output.EventCount; i++)
        {
            ref GuardEvent told = ref output.Events[i];
            if (told is { Id: EventId.LearningBegun, Function: FunctionId.Phas } && (uint)told.Unit < (uint)_units.Length)
            {
                _units[told.Unit].Legs?.LearnAnew();
            }
        }

        AlarmTally tally = default;
        for (int unit = 0; unit < _units.Length; unit++)
        {
            UnitDecision decision = output.Units[unit];
            for (int i = 0; i < decision.Alarms.Length; i++)
            {
                tally.Count(in decision.Alarms[i]);
                if (decision.Alarms[i].JustAnnunciated)
                {
                    Rates.Annunciated(AlarmIds.PriorityOf((FunctionId)i));
                }
            }

            _units[unit].Step(scan.UtcUnixMs, decision);
        }

        Tally = tally;
    }
}
