using System.Globalization;
using EdgeGuard.VirtualPlant.Cabinets;
using EdgeGuard.VirtualPlant.Ledger;
using EdgeGuard.VirtualPlant.Physics;
using EdgeGuard.VirtualPlant.Profiles;

namespace EdgeGuard.VirtualPlant;

/// <summary>
/// All cabinets of a site in step. There is no clock in here: time is what <see cref="Advance"/> is given, so the same
/// commands give the same bits. One thread advances; others may read and command the cabinets under their locks.
/// </summary>
public sealed class Plant
{
    private readonly Cabinet[] _cabinets;

    private readonly Lock _siteGate = new();

    private readonly SiteLedger _site;

    private readonly int _observerMs;

    private readonly Action<Plant>? _observer;

    /// <summary>Builds the cabinets.</summary>
    /// <param name="profiles">One profile per cabinet, names unique.</param>
    /// <param name="startUtc">The plant's clock at its start.</param>
    /// <param name="siteLimitKw">Limit of the shared supply, kW.</param>
    /// <param name="observer">Called by the advancing thread, without locks held, each <paramref name="observerMs"/>.</param>
    /// <param name="observerMs">Period of the observer in plant time, ms.</param>
    public Plant(IReadOnlyList<PlantProfile> profiles, DateTime startUtc, double siteLimitKw = PlantProfiles.SiteLimitKw, Action<Plant>? observer = null, int observerMs = 1000)
    {
        ArgumentNullException.ThrowIfNull(profiles);
        _cabinets = [.. profiles.Select(p => new Cabinet(p))];
        _site = new SiteLedger(siteLimitKw);
        _observer = observer;
        _observerMs = observerMs;
        StartUtc = startUtc;
    }

    /// <summary>The cabinets in the order of the profiles.</summary>
    public IReadOnlyList<Cabinet> Cabinets => _cabinets;

    /// <summary>The plant's clock at its start.</summary>
    public DateTime StartUtc { get; }

    /// <summary>Plant time since the start, ms.</summary>
    public long NowMs { get; private set; }

    /// <summary>The plant's clock.</summary>
    public DateTime NowUtc => StartUtc.AddMilliseconds(NowMs);

    /// <summary>Advances by whole steps of 5 ms and a shorter last one where the time is no multiple of 5.</summary>
    public void Advance(int milliseconds)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(milliseconds);
        int left = milliseconds;
        while (left > 0)
        {
            int stepMs = Math.Min(left, HeaterModel.StepMaxMs);
            Step(stepMs);
            left -= stepMs;
        }
    }

    /// <summary>Finds a cabinet by the name of its unit, case ignored; null when there is none.</summary>
    public Cabinet? Find(string unit) => Array.Find(_cabinets, c => string.Equals(c.Profile.Name, unit, StringComparison.OrdinalIgnoreCase));

    /// <summary>The whole ledger at this moment.</summary>
    public LedgerReport ReportLedger()
    {
        SiteLedgerReport site;
        lock (_siteGate)
        {
            site = _site.Report();
        }

        return new LedgerReport
        {
            AtMs = NowMs,
            StartUtc = StartUtc.ToString("yyyy-MM-dd'T'HH:mm:ss.fff'Z'", CultureInfo.InvariantCulture),
            Site = site,
            Units = [.. _cabinets.Select(ReportOf)],
        };
    }

    /// <summary>True values of all cabinets at this moment.</summary>
    public PlantTruth Truth() => new() { AtMs = NowMs, Units = [.. _cabinets.Select(TruthOf)] };

    private static UnitLedgerReport ReportOf(Cabinet cabinet)
    {
        lock (cabinet.Gate)
        {
            return cabinet.Ledger.Report();
        }
    }

    private static CabinetTruth TruthOf(Cabinet cabinet)
    {
        lock (cabinet.Gate)
        {
            return cabinet.Truth();
        }
    }

    private void Step(int stepMs)
    {
        double sumKw = 0.0;
        foreach (Cabinet cabinet in _cabinets)
        {
            lock (cabinet.Gate)
            {
                sumKw += cabinet.Step(stepMs);
            }
        }

        long before = NowMs;
        NowMs += stepMs;
        lock (_siteGate)
        {
            _site.Observe(NowMs, stepMs, sumKw);
        }

        if (_observer is not null && before / _observerMs != NowMs / _observerMs)
        {
            _observer(this);
        }
    }
}
