using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Service.FieldIo;
using EdgeGuard.Service.Guarding;

namespace EdgeGuard.Service.Tests.Guarding;

/// <summary>All ports of the scan thread in one recorder: what was called, in which order.</summary>
internal sealed class EffectLog : IFieldPort, IEventPort, IRequestPort, IScanCopy, IPacer, IGuardStep
{
    private readonly int _scansMax;
    private int _ticks;
    private long _ids;

    public EffectLog(int scansMax = int.MaxValue) => _scansMax = scansMax;

    public List<string> Calls { get; } = [];

    public Action<RawScan, ScanOutput> OnStep { get; set; } = static (_, _) => { };

    public Action<RawScan> OnFill { get; set; } = static _ => { };

    public long DurableEvent { get; set; }

    public JournalHealth Health { get; set; } = JournalHealth.Healthy;

    public void Fill(RawScan scan, long nominalUs)
    {
        Calls.Add("fill");
        OnFill(scan);
    }

    public void Offer(int unit, CommandRole role, in CommandDecision decision) =>
        Calls.Add($"{(decision.DeEnergising ? "remove" : "energise")} {unit} {role} {decision.Value:0}");

    public void WakeWorkers() => Calls.Add("wake");

    public void Enqueue(in GuardEvent e) => Calls.Add($"event {e.Id}");

    public void Take(OperatorRequest[] requests) => Calls.Add("requests");

    public void Decided(in GuardEvent decision) => Calls.Add($"decided {decision.Detail}");

    public long NextId() => ++_ids;

    public void Copy(in ScanTick tick, RawScan scan, ScanOutput output) => Calls.Add("copy");

    public bool WaitNext(ref ScanTick tick)
    {
        tick.NominalUs = _ticks * 100_000L;
        return _ticks++ < _scansMax;
    }

    public void Done(ScanOutput output) => Calls.Add("done");

    public void Step(RawScan scan, ScanOutput output)
    {
        Calls.Add("step");
        OnStep(scan, output);
    }

    public ScanLoop Loop(SiteTable site, int stopLimitMs = 3000) => new(
        site,
        new ScanPorts { Pacer = this, Core = this, Field = this, Events = this, Requests = this, Copies = [this], Clock = new ConductedClock() },
        stopLimitMs);
}
