using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Service.FieldIo;

/// <summary>The field as the scan thread uses it. No member waits for a device.</summary>
public interface IFieldPort
{
    /// <summary>Copies the newest words, outcomes and command feedback; ages count up to the nominal time of the scan, µs.</summary>
    void Fill(RawScan scan, long nominalUs);

    /// <summary>Offers one decision of the core to its slot; <see cref="WakeWorkers"/> sends the workers off.</summary>
    void Offer(int unit, CommandRole role, in CommandDecision decision);

    /// <summary>Wakes the workers that were offered something since the last call.</summary>
    void WakeWorkers();
}
