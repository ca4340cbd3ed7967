using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Records.Ring;

namespace EdgeGuard.Service.Guarding;

/// <summary>Copies each scan to the ring, which other processes read. Never waits: slow readers lose, the guard does not.</summary>
internal sealed class RecordCopies : IScanCopy, IDisposable
{
    private readonly ScanRingWriter _ring;

    public RecordCopies(GuardPlan plan, string runId, long startUtcMs)
    {
        _ring = new ScanRingWriter(new ScanRingOptions
        {
            Path = Path.Combine(plan.DataFolder, GuardHost.RingFolder, GuardHost.RingFile),
            Site = plan.Site,
            SiteDigest = Convert.FromHexString(plan.SettingsDigest),
            RunId = runId,
            StartUtcUnixMs = startUtcMs,
        });
    }

    /// <summary>Figures of the loop that go into the ring's header.</summary>
    public ScanStatistics Statistics { get; set; } = new();

    /// <inheritdoc/>
    public void Copy(in ScanTick tick, RawScan scan, ScanOutput output)
    {
        var live = new ScanRingLive
        {
            LatenessLastUs = tick.LatenessUs,
            LatenessMaxUs = Math.Max(tick.LatenessUs, Statistics.LatenessMaxUs),
            Overruns = Statistics.Overruns,
        };
        _ring.Write(scan, output, live);
    }

    public void Dispose() => _ring.Dispose();
}
