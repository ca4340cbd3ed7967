using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Service.Guarding;

/// <summary>Copies each scan to the records that other processes read.</summary>
internal sealed class RecordCopies : IScanCopy, IDisposable
{
    public RecordCopies(GuardPlan plan, string runId, long startUtcMs)
    {
    }

    /// <summary>Figures of the loop that go into the ring's header.</summary>
    public ScanStatistics? Statistics { get; set; }

    /// <inheritdoc/>
    public void Copy(in ScanTick tick, RawScan scan, ScanOutput output)
    {
    }

    public void Dispose()
    {
    }
}
