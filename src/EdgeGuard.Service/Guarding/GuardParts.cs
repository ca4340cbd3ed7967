using System.Globalization;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Records.Journal;
using EdgeGuard.Service.FieldIo;
using EdgeGuard.Service.Guarding.Keeping;
using EdgeGuard.Service.Guarding.Watching;
using EdgeGuard.Service.Requests;

namespace EdgeGuard.Service.Guarding;

/// <summary>
/// The pieces of one run, built in the order in which they depend on each other and taken down in the reverse one.
/// Everything that can fail at start fails here, before the first scan and before any write.
/// </summary>
internal sealed class GuardParts : IDisposable
{
    // Time for the links to come up, so that the first scan sees what stands at the cabinets.
    private const int StartDelayMs = 300;
    private const int DrainLimitMs = 10_000;

    private readonly FileJournalStorage _storage;
    private readonly RequestServer _server;
    private readonly RequestDesk _desk;
    private readonly KeptCopy _keptCopy;
    private long _conductedUtcMs;

    public GuardParts(GuardPlan plan, GuardOptions options)
    {
        FieldClock clock = options.Conductor is null ? new MonotonicClock() : new ConductedClock();
        _conductedUtcMs = options.Conductor?.StartUtcMs ?? 0;
        Func<long> utcNowMs = options.Conductor is null ? UtcNow : () => Volatile.Read(ref _conductedUtcMs);
        string runId = RunId(utcNowMs());
        _storage = new FileJournalStorage(Path.Combine(plan.DataFolder, GuardHost.JournalFolder));
        HiddenBefore = HiddenAtEnd.Of(_storage);
        Journal = new JournalThread(_storage, new JournalThreadOptions
        {
            Run = new JournalRun { Id = runId, Version = options.Version, UtcNowMs = utcNowMs },
            UnitNames = [.. plan.Site.Units.Select(static u => u.Name)],
            ScanMs = plan.Site.ScanMs,
            Written = new EventConsole(options.Log).Take,
        });
        JournalPort = new JournalPort(Journal, utcNowMs, options.Log);
        Field = BuildField(plan, options, clock);
        _desk = new RequestDesk(plan.Site.Units.Count, JournalPort);
        Kept = new KeptStart(plan, utcNowMs());
        Watch = new SiteWatch(plan.Site);
        Watch.Restore(Kept.Records, Kept.Taken);
        _keptCopy = new KeptCopy(Kept.Records, Watch);
        Keeping = new KeptThread(Kept, _keptCopy, JournalPort, utcNowMs, runId, plan.KeepMs);
        Board = new StatusBoard(plan.Site.Units.Count, Watch);
        Copies = new RecordCopies(plan, Field.Workers, _desk.Bypasses, _desk.Forces, _desk.Hidden, Watch, Kept.ToBytes(), runId, utcNowMs(), options.Conductor is not null);
        FirstScanUs = clock.NowUs + (StartDelayMs * 1000L);
        Loop = BuildLoop(plan, options, clock);
        var status = new GuardStatus(plan, options.Version, Board, Journal, Field, Loop.Statistics, Allocations, _desk.Hidden);
        _server = new RequestServer(
            new RequestServerOptions { SocketPath = RequestClient.SocketPath(plan.DataFolder), Group = options.RequestGroup, Units = [.. plan.Site.Units.Select(static u => u.Name)] },
            _desk,
            JournalPort,
            status);
    }

    /// <summary>Alarms that were hidden when the run before ended, a sentence each.</summary>
    public IReadOnlyList<string> HiddenBefore { get; }

    public JournalThread Journal { get; }

    public JournalPort JournalPort { get; }

    public FieldBus Field { get; }

    public SiteWatch Watch { get; }

    public StatusBoard Board { get; }

    public KeptStart Kept { get; }

    public KeptThread Keeping { get; }

    public RecordCopies Copies { get; }

    public ScanLoop Loop { get; private set; }

    public AllocationMeter Allocations { get; } = new();

    public long FirstScanUs { get; }

    public void StartRequests() => _server.Start();

    public void StopRequests() => _server.Dispose();

    public bool DrainJournal() => Journal.DrainAndWait(TimeSpan.FromMilliseconds(DrainLimitMs));

    public void Dispose()
    {
        _server.Dispose();
        Field.Dispose();
        Keeping.Dispose();
        Journal.Dispose();
        _storage.Dispose();
        Copies.Dispose();
        _desk.Dispose();
    }

    private FieldBus BuildField(GuardPlan plan, GuardOptions options, FieldClock clock)
    {
        Func<LinkPlan, IModbusLink> factory = options.LinkFactory ?? LinkBuilder.Build;
        var workers = plan.Links.Select(l => new LinkWorker(new LinkEngine(l.Table, factory(l), clock), clock, JournalPort, options.Conductor is not null));
        return new FieldBus([.. workers], plan.Site.BlockWordCounts.Count, plan.Site.Units.Count, plan.Verdicts);
    }

    private ScanLoop BuildLoop(GuardPlan plan, GuardOptions options, FieldClock clock)
    {
        IPacer pacer = options.Conductor is { } console
            ? new ConductedPacer(plan.Site, (ConductedClock)clock, Field, _desk, DrainJournal, () => Loop!.AskStop(), console) { UtcChanged = utcMs => Volatile.Write(ref _conductedUtcMs, utcMs) }
            : new RealTimePacer((MonotonicClock)clock, TimeProvider.System, plan.Site.ScanMs, FirstScanUs);
        var loop = new ScanLoop(plan.Site, new ScanPorts
        {
            Pacer = pacer,
            Core = new CoreStep(plan.Site, Kept.Figures),
            Field = Field,
            Events = JournalPort,
            Requests = _desk,
            Copies = [Watch, Copies, Board, _keptCopy],
            Clock = clock,
        });
        Copies.Statistics = loop.Statistics;
        return loop;
    }

    private static long UtcNow() => TimeProvider.System.GetUtcNow().ToUnixTimeMilliseconds();

    // Sortable by time and unique enough: two runs on one data folder cannot start in the same millisecond, the lock sees to it.
    private static string RunId(long utcMs) =>
        DateTimeOffset.FromUnixTimeMilliseconds(utcMs).UtcDateTime.ToString("yyyyMMdd'T'HHmmssfff'Z'", CultureInfo.InvariantCulture);
}
