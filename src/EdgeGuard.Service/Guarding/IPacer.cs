using EdgeGuard.Core.Interlocks;

namespace EdgeGuard.Service.Guarding;

/// <summary>Decides when the scan thread scans: the clock of the machine, or a conductor. The code between is the same.</summary>
public interface IPacer
{
    /// <summary>Blocks until the next scan is due. False when there will be none.</summary>
    bool WaitNext(ref ScanTick tick);

    /// <summary>All effects of the scan have been handed over.</summary>
    void Done(ScanOutput output);
}
