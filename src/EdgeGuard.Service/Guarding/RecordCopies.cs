using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Records.Recorder;
using EdgeGuard.Records.Ring;
using EdgeGuard.Service.FieldIo;
using EdgeGuard.Service.Guarding.Watching;

namespace EdgeGuard.Service.Guarding;

/// <summary>
/// Copies each scan to the ring, which other processes read, and to the raw recording, from which every decision can
/// be replayed. Never waits: a slow reader or disk loses scans and is told so, the guard does not.
/// </summary>
internal sealed class RecordCopies : IScanCopy, IDisposable
{
    // Conducted, a scan takes well under a millisecond, and a gap would make two equal runs differ in their recording.
    private const int ConductedSlots = 8192;

    private readonly ScanRingWriter _ring;
    private readonly LinkCopies _links;
    private readonly AcceptedOrders _bypasses;
    private readonly AcceptedOrders _forces;
    private readonly AcceptedOrders _hidden;
    private readonly SiteWatch _watch;
    private readonly int _unitCount;
    private readonly long _periodUs;

    public RecordCopies(GuardPlan plan, IReadOnlyList<LinkWorker> links, AcceptedOrders bypasses, AcceptedOrders forces, AcceptedOrders hidden, SiteWatch watch, ReadOnlyMemory<byte> kept, string runId, long startUtcMs, bool conducted)
    {
        (_links, _bypasses, _forces, _hidden, _watch, _unitCount) = (new LinkCopies(links), bypasses, forces, hidden, watch, plan.Site.Units.Count);
        _periodUs = plan.Site.ScanMs * 1000L;
        _ring = new ScanRingWriter(new ScanRingOptions
        {
            Path = GuardHost.RingPath(plan.DataFolder, plan.RingFolder),
            Site = plan.Site,
            SiteDigest = Convert.FromHexString(plan.SettingsDigest),
            RunId = runId,
            StartUtcUnixMs = startUtcMs,
            LinkNames = _links.Names,
        });
        var options = new RawTailOptions
        {
            Folder = Path.Combine(plan.DataFolder, GuardHost.TailFolder),
            Header = new RawTailHeader
            {
                RunId = runId,
                SiteDigest = Convert.FromHexString(plan.SettingsDigest),
                UnitCount = plan.Site.Units.Count,
                BlockWordCounts = plan.Site.BlockWordCounts,
                Kept = kept,
            },
        };
        Tail = new RawTail(conducted ? options with { Slots = ConductedSlots } : options);
    }

    /// <summary>The raw recording; started by the host.</summary>
    public RawTail Tail { get; }

    /// <summary>Figures of the loop that go into the ring's header.</summary>
    public ScanStatistics Statistics { get; set; } = new();

    /// <inheritdoc/>
    public void Copy(in ScanTick tick, RawScan scan, ScanOutput output)
    {
        var live = new ScanRingLive
        {
            LatenessLastUs = tick.LatenessUs,
            LatenessMaxUs = Math.Max(tick.LatenessUs + (tick.Skipped * _periodUs), Statistics.LatenessMaxUs),
            Overruns = Statistics.Overruns,
            TailDropped = Tail.Dropped,
        };
        AddAlarms(ref live);
        WritePersons();
        for (int unit = 0; unit < _unitCount; unit++)
        {
            WriteUse(unit);
        }

        _ring.Write(scan, output, live, _links.Collect());
        Tail.TryRecord(scan);
    }

    private void WritePersons()
    {
        while (_bypasses.TryTake() is { } bypass)
        {
            _ring.WriteBypassPerson(bypass.Unit, bypass.Function, bypass.Person);
        }

        while (_forces.TryTake() is { } force)
        {
            _ring.WriteForcer(force.Unit, force.Signal, force.Person, force.Reason);
        }

        while (_hidden.TryTake() is { } hidden)
        {
            _ring.WriteHiddenAlarm(hidden.Unit, hidden.Function, hidden.Person, hidden.Reason);
        }
    }

    private void AddAlarms(ref ScanRingLive live)
    {
        AlarmFigures alarms = AlarmFigures.Of(_watch);
        live.AlarmsTotal = alarms.Total;
        live.AlarmsInTenMinutes = alarms.InTenMinutes;
        live.AlarmsMostInTenMinutes = alarms.MostInTenMinutes;
        live.AlarmsAverageInTenMinutes = alarms.AverageInTenMinutes;
        live.AlarmFlood = alarms.InFlood;
        live.AlarmFloods = alarms.Floods;
        live.AlarmFloodPercent = alarms.FloodPercent;
        live.AlarmsHigh = alarms.High;
        live.AlarmsMedium = alarms.Medium;
        live.AlarmsLow = alarms.Low;
        live.AlarmsStanding = alarms.Tally.Standing;
        live.AlarmsUnacknowledged = alarms.Tally.Unacknowledged;
        live.AlarmsShelved = alarms.Tally.Shelved;
        live.AlarmsSuppressed = alarms.Tally.Suppressed;
        live.AlarmsOutOfService = alarms.Tally.OutOfService;
        live.AlarmsChattering = alarms.Tally.Chattering;
        live.AlarmsStale = alarms.Tally.Stale;
    }

    private void WriteUse(int unit)
    {
        UnitWatch watch = _watch[unit];
        _ring.WriteUse(unit, UseFigures.Of(watch));
        for (int band = 0; band < UnitWatch.BandsC.Count; band++)
        {
            _ring.WriteBandHours(unit, band, watch.Stress.BandHours(band));
        }
    }

    public void Dispose()
    {
        Tail.Dispose();
        _ring.Dispose();
    }
}
