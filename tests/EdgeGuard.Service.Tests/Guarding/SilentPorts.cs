using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Service.FieldIo;
using EdgeGuard.Service.Guarding;
using EdgeGuard.Service.Guarding.Watching;
using EdgeGuard.Service.Requests;

namespace EdgeGuard.Service.Tests.Guarding;

/// <summary>Ports that do nothing and allocate nothing, around the real core, status board and request desk.</summary>
internal sealed class SilentPorts : IFieldPort, IEventPort, IPacer, IRequestJournal
{
    private readonly int _scansMax;
    private long _sequence;
    private int _scans;

    public SilentPorts(int scansMax) => _scansMax = scansMax;

    public Action<int> OnScan { get; set; } = static _ => { };

    public long AllocatedAtEnd { get; private set; }

    public long DurableEvent => _sequence;

    public JournalHealth Health => JournalHealth.Healthy;

    public ScanPorts Ports(IGuardStep core, SiteTable site)
    {
        var watch = new SiteWatch(site);
        return new ScanPorts
        {
            Pacer = this,
            Core = core,
            Field = this,
            Events = this,
            Requests = new RequestDesk(site.Units.Count, this),
            Copies = [watch, new StatusBoard(site.Units.Count, watch)],
            Clock = new MonotonicClock(),
        };
    }

    public void Fill(RawScan scan, long nominalUs)
    {
    }

    public void Offer(int unit, CommandRole role, in CommandDecision decision)
    {
    }

    public void WakeWorkers()
    {
    }

    public void Enqueue(in GuardEvent e) => _sequence = e.Sequence;

    public bool WaitNext(ref ScanTick tick)
    {
        OnScan(_scans);
        AllocatedAtEnd = GC.GetAllocatedBytesForCurrentThread();
        tick.NominalUs = _scans * 100_000L;
        tick.UtcUnixMs = 1_764_000_000_000 + (_scans * 100L);
        tick.Clock = ClockQuality.Even;
        return _scans++ < _scansMax;
    }

    public void Done(ScanOutput output)
    {
    }

    public bool Received(RequestOrder order, long id) => true;

    public void Rejected(string person, string why)
    {
    }
}
