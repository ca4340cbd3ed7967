using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Service.Guarding;

/// <summary>A place that receives a copy of each scan after everything else: ring, raw recording, status. Never blocks.</summary>
public interface IScanCopy
{
    /// <summary>Copies what it needs; the arguments are overwritten by the next scan.</summary>
    void Copy(in ScanTick tick, RawScan scan, ScanOutput output);
}
